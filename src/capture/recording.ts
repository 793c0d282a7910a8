// A recording from a file: WAV is read by ourselves at its own rate, everything else by the browser.

import { loudestChannel, readWav } from '../files/wav.ts';
import { isTapRate } from '../signal/tap.ts';

/** The loudest channel of a recording, or why there is none. */
export type Recording =
  | {
      readonly kind: 'recording';
      readonly samples: Float32Array;
      readonly sampleRateHz: number;
      /** true where the file ends before the sound that it announces */
      readonly breaksOff: boolean;
    }
  | { readonly kind: 'refused'; readonly because: 'not-audio' | 'empty' | 'too-long' | 'no-numbers' | 'rate' };

/** Longest recording taken, s. A day's taps of one piece fit. */
const longestS = 20 * 60;
/** The rate at which the browser hands over compressed sound, Hz. */
const decodedRateHz = 48_000;

/** Reads the bytes of a sound file. */
export async function readRecording(bytes: Uint8Array<ArrayBuffer>): Promise<Recording> {
  if (bytes.length === 0) return { kind: 'refused', because: 'empty' };
  const wav = readWav(bytes);
  if (wav.kind === 'audio') return checked(wav.channels, wav.sampleRateHz, wav.truncated);
  switch (wav.because) {
    case 'too-long':
    case 'no-numbers':
      return { kind: 'refused', because: wav.because };
    case 'no-data':
      return { kind: 'refused', because: 'empty' };
    case 'no-format':
    case 'unknown-encoding':
    case 'bad-format':
      return { kind: 'refused', because: 'not-audio' };
    case 'not-wav':
      break;
  }
  try {
    const decoded = await new OfflineAudioContext(1, 1, decodedRateHz).decodeAudioData(bytes.buffer.slice(0));
    const channels = Array.from({ length: decoded.numberOfChannels }, (_, c) => decoded.getChannelData(c));
    return checked(channels, decoded.sampleRate, false);
  } catch (cause) {
    if (!(cause instanceof DOMException)) throw cause;
    return { kind: 'refused', because: 'not-audio' };
  }
}

function checked(channels: readonly Float32Array[], sampleRateHz: number, breaksOff: boolean): Recording {
  const frames = channels[0]?.length ?? 0;
  if (frames === 0) return { kind: 'refused', because: 'empty' };
  if (!isTapRate(sampleRateHz)) return { kind: 'refused', because: 'rate' };
  if (frames / sampleRateHz > longestS) return { kind: 'refused', because: 'too-long' };
  return { kind: 'recording', samples: loudestChannel(channels), sampleRateHz, breaksOff };
}
