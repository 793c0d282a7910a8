// Writing WAV; the reader and the source of the layout are in wav.ts.
import { encodeUtf8 } from './utf8.ts';
import type { CuePoint } from './wav.ts';

/** What goes into a file beside the samples. */
export interface WavNotes {
  /** INFO texts by their four letters: INAM title, ICRD date as YYYY-MM-DD, ISFT software, ICMT comment */
  readonly info?: Readonly<Record<string, string>>;
  readonly cues?: readonly CuePoint[];
}

/**
 * A WAV file of 32-bit floats: the samples exactly as heard.
 * @param channels one row of samples a channel, 1 or more, equally long
 * @throws RangeError for no channel, rows of different length, a rate that is not a positive integer, or a tag that is
 *         not four ASCII letters
 */
export function writeWav(channels: readonly Float32Array[], sampleRateHz: number, notes: WavNotes = {}): Uint8Array {
  return riff(channels, sampleRateHz, 'float-32', notes);
}

/** A WAV file of 16-bit PCM, each sample rounded to the nearest step: half the size, for sounds made by the program. */
export function writeWav16(channels: readonly Float32Array[], sampleRateHz: number, notes: WavNotes = {}): Uint8Array {
  return riff(channels, sampleRateHz, 'pcm-16', notes);
}

function riff(
  channels: readonly Float32Array[],
  sampleRateHz: number,
  encoding: 'float-32' | 'pcm-16',
  notes: WavNotes,
): Uint8Array {
  const frames = channels[0]?.length ?? 0;
  if (channels.length === 0) throw new RangeError('writeWav: 0 channels, need 1 or more');
  if (channels.some((row) => row.length !== frames)) {
    throw new RangeError(`writeWav: channels of ${channels.map((row) => row.length)} samples, need equal lengths`);
  }
  if (!Number.isInteger(sampleRateHz) || sampleRateHz < 1) {
    throw new RangeError(`writeWav: sampleRateHz ${sampleRateHz}, need a whole number >= 1`);
  }
  const isFloat = encoding === 'float-32';
  const width = isFloat ? 4 : 2;
  const block = channels.length * width;
  const head = [u16(isFloat ? 3 : 1), u16(channels.length), u32(sampleRateHz), u32(sampleRateHz * block)];
  const format = [...head, u16(block), u16(width * 8), ...(isFloat ? [u16(0)] : [])];
  const cues = notes.cues ?? [];
  const info = Object.entries(notes.info ?? {});
  const chunks = [
    chunk('fmt ', ...format),
    ...(isFloat ? [chunk('fact', u32(frames))] : []),
    ...(info.length > 0
      ? [chunk('LIST', ascii('INFO'), ...info.map(([id, words]) => chunk(id, terminated(words))))]
      : []),
    chunk('data', interleaved(channels, frames, isFloat)),
    ...(cues.length > 0 ? cueChunks(cues) : []),
  ];
  return chunk('RIFF', ascii('WAVE'), ...chunks);
}

function interleaved(channels: readonly Float32Array[], frames: number, isFloat: boolean): Uint8Array {
  const width = isFloat ? 4 : 2;
  const bytes = new Uint8Array(frames * channels.length * width);
  const view = new DataView(bytes.buffer);
  let at = 0;
  for (let n = 0; n < frames; n++) {
    for (const channel of channels) {
      if (isFloat) view.setFloat32(at, channel[n]!, true);
      else view.setInt16(at, Math.max(-32_768, Math.min(32_767, Math.round(channel[n]! * 32_768))), true);
      at += width;
    }
  }
  return bytes;
}

function cueChunks(cues: readonly CuePoint[]): Uint8Array[] {
  const points = cues.flatMap((cue, i) => [
    u32(i + 1),
    u32(cue.sample),
    ascii('data'),
    u32(0),
    u32(0),
    u32(cue.sample),
  ]);
  const labels = cues.map((cue, i) => chunk('labl', u32(i + 1), terminated(cue.label)));
  return [chunk('cue ', u32(cues.length), ...points), chunk('LIST', ascii('adtl'), ...labels)];
}

/** Four letters, the size without the padding, the parts, and a zero byte where the size is odd. */
function chunk(id: string, ...parts: readonly Uint8Array[]): Uint8Array {
  if (!/^[\x20-\x7e]{4}$/.test(id)) throw new RangeError(`writeWav: chunk "${id}", need four ASCII letters`);
  const size = parts.reduce((sum, part) => sum + part.length, 0);
  const bytes = new Uint8Array(8 + size + (size % 2));
  bytes.set(ascii(id), 0);
  bytes.set(u32(size), 4);
  let at = 8;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

function ascii(letters: string): Uint8Array {
  return Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
}

function terminated(words: string): Uint8Array {
  return encodeUtf8(`${words}\0`);
}

function u16(value: number): Uint8Array {
  return Uint8Array.of(value & 255, value >>> 8);
}

function u32(value: number): Uint8Array {
  return Uint8Array.of(value & 255, (value >>> 8) & 255, (value >>> 16) & 255, (value >>> 24) & 255);
}
