// Reading and writing WAV: the one form in which taps leave and enter. What the microphone gave is kept as 32-bit floats.
// Layout: IBM/Microsoft, Multimedia Programming Interface and Data Specifications 1.0 (1991) and its 1994 update, as
// summarised by P. Kabal, McGill TSP Lab.
import { decodeUtf8 } from './utf8.ts';

/** A mark in a recording: the first sample of a tap, with its label. */
export interface CuePoint {
  readonly sample: number;
  readonly label: string;
}

/** A recording as read. */
export interface Audio {
  readonly kind: 'audio';
  readonly sampleRateHz: number;
  /** one row of samples a channel, full scale = 1, equally long */
  readonly channels: readonly Float32Array[];
  /** texts of the INFO list by their four letters: INAM title, ICRD date, ISFT software, ICMT comment */
  readonly info: Readonly<Record<string, string>>;
  readonly cues: readonly CuePoint[];
  /** the file says it is longer than it is */
  readonly truncated: boolean;
}

/** Why bytes are no recording. */
export interface NoAudio {
  readonly kind: 'refused';
  readonly because: 'not-wav' | 'no-format' | 'unknown-encoding' | 'bad-format' | 'no-data' | 'no-numbers' | 'too-long';
}

/** More samples than anyone taps: an hour of stereo at 192 kHz would be 1.4e9; this is about 1.5 h mono at 48 kHz. */
const MOST_SAMPLES = 2 ** 28;

const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;

interface Format {
  readonly encoding: number;
  readonly channels: number;
  readonly sampleRateHz: number;
  readonly blockBytes: number;
  readonly bits: number;
}

/**
 * Read a WAV file: PCM of 8, 16, 24 or 32 bits, float of 32 or 64 bits, plain or extensible; other chunks are skipped.
 * A file that breaks off gives what is there; one with samples that are no numbers, or larger than a 32-bit float holds, is
 * refused: what else is wrong with it nobody can tell. Never throws, whatever the bytes.
 */
export function readWav(bytes: Uint8Array): Audio | NoAudio {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12 || text(bytes, 0, 4) !== 'RIFF' || text(bytes, 8, 12) !== 'WAVE') return refused('not-wav');
  let format: Format | undefined;
  let data: { from: number; to: number } | undefined;
  let truncated = false;
  const info: Record<string, string> = {};
  const cueSamples = new Map<number, number>();
  const labels = new Map<number, string>();
  for (let at = 12; at + 8 <= bytes.length; ) {
    const id = text(bytes, at, at + 4);
    const size = view.getUint32(at + 4, true);
    const from = at + 8;
    const to = Math.min(bytes.length, from + size);
    const complete = from + size <= bytes.length;
    if (id === 'fmt ') format = readFormat(view, from, to);
    else if (id === 'data' && data === undefined) {
      data = { from, to };
      truncated = !complete;
    } else if (id === 'LIST') readList(bytes, view, from, to, info, labels);
    else if (id === 'cue ') readCues(view, from, to, cueSamples);
    at = from + size + (size % 2);
  }
  if (format === undefined) return refused('no-format');
  if (data === undefined) return refused('no-data');
  const fault = formatFault(format);
  if (fault !== undefined) return refused(fault);
  const frames = Math.floor((data.to - data.from) / format.blockBytes);
  if (frames === 0) return refused('no-data');
  if (frames * format.channels > MOST_SAMPLES) return refused('too-long');
  const channels = readSamples(view, data.from, frames, format);
  if (channels === undefined) return refused('no-numbers');
  const cues = [...cueSamples]
    .map(([id, sample]) => ({ sample, label: labels.get(id) ?? '' }))
    .sort((a, b) => a.sample - b.sample);
  return {
    kind: 'audio',
    sampleRateHz: format.sampleRateHz,
    channels,
    info,
    cues,
    truncated,
  };
}

function refused(because: NoAudio['because']): NoAudio {
  return { kind: 'refused', because };
}

function text(bytes: Uint8Array, from: number, to: number): string {
  let out = '';
  for (let i = from; i < to; i++) out += String.fromCharCode(bytes[i]!);
  return out;
}

function readFormat(view: DataView, from: number, to: number): Format | undefined {
  if (to - from < 16) return undefined;
  const tag = view.getUint16(from, true);
  // the real encoding of an extensible file is the first word of its sub-format
  const encoding = tag === EXTENSIBLE && to - from >= 26 ? view.getUint16(from + 24, true) : tag;
  return {
    encoding,
    channels: view.getUint16(from + 2, true),
    sampleRateHz: view.getUint32(from + 4, true),
    blockBytes: view.getUint16(from + 12, true),
    bits: view.getUint16(from + 14, true),
  };
}

function formatFault(format: Format): NoAudio['because'] | undefined {
  const widths = format.encoding === PCM ? [8, 16, 24, 32] : format.encoding === FLOAT ? [32, 64] : [];
  if (!widths.includes(format.bits)) return 'unknown-encoding';
  if (format.channels === 0 || format.sampleRateHz === 0) return 'bad-format';
  if (format.blockBytes !== (format.channels * format.bits) / 8) return 'bad-format';
  return undefined;
}

/** One row a channel; undefined where a sample is not finite. */
function readSamples(view: DataView, from: number, frames: number, format: Format): Float32Array[] | undefined {
  const width = format.bits / 8;
  const read = sampleReader(view, format);
  const channels = Array.from({ length: format.channels }, () => new Float32Array(frames));
  for (const [channel, samples] of channels.entries()) {
    for (let n = 0, at = from + channel * width; n < frames; n++, at += format.blockBytes) {
      samples[n] = read(at);
      // looked at as it is kept: a 64-bit number may be beyond 32 bits
      if (!Number.isFinite(samples[n])) return undefined;
    }
  }
  return channels;
}

function sampleReader(view: DataView, format: Format): (at: number) => number {
  if (format.encoding === FLOAT) {
    return format.bits === 32 ? (at) => view.getFloat32(at, true) : (at) => view.getFloat64(at, true);
  }
  switch (format.bits) {
    case 8: // the one unsigned width
      return (at) => (view.getUint8(at) - 128) / 128;
    case 16:
      return (at) => view.getInt16(at, true) / 32_768;
    case 24:
      return (at) => (view.getUint16(at, true) + view.getInt8(at + 2) * 65_536) / 8_388_608;
    default:
      return (at) => view.getInt32(at, true) / 2_147_483_648;
  }
}

/** A LIST of INFO texts or of cue labels. */
function readList(
  bytes: Uint8Array,
  view: DataView,
  from: number,
  to: number,
  info: Record<string, string>,
  labels: Map<number, string>,
): void {
  if (to - from < 4) return;
  const kind = text(bytes, from, from + 4);
  for (let at = from + 4; at + 8 <= to; ) {
    const id = text(bytes, at, at + 4);
    const size = view.getUint32(at + 4, true);
    const end = Math.min(to, at + 8 + size);
    if (kind === 'INFO') info[id] = terminated(bytes, at + 8, end);
    else if (kind === 'adtl' && id === 'labl' && end - at >= 12) {
      labels.set(view.getUint32(at + 8, true), terminated(bytes, at + 12, end));
    }
    at += 8 + size + (size % 2);
  }
}

/** UTF-8 text up to the first NUL. */
function terminated(bytes: Uint8Array, from: number, to: number): string {
  const nul = bytes.subarray(from, to).indexOf(0);
  return decodeUtf8(bytes.subarray(from, nul < 0 ? to : from + nul));
}

function readCues(view: DataView, from: number, to: number, samples: Map<number, number>): void {
  if (to - from < 4) return;
  const count = view.getUint32(from, true);
  for (let i = 0, at = from + 4; i < count && at + 24 <= to; i++, at += 24) {
    samples.set(view.getUint32(at, true), view.getUint32(at + 20, true));
  }
}

/**
 * The channel with the most energy. Channels are never averaged: two microphones at different distances would cancel
 * each other at some frequencies.
 */
export function loudestChannel(channels: readonly Float32Array[]): Float32Array {
  let loudest = channels[0] ?? new Float32Array(0);
  let most = -1;
  for (const channel of channels) {
    let energy = 0;
    for (const x of channel) energy += x * x;
    if (energy > most) {
      most = energy;
      loudest = channel;
    }
  }
  return loudest;
}
