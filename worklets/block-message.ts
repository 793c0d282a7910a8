/** Frames handed over in one message: short enough for a lively level display, long enough to cost nothing. */
export const blockFrames = 2048;

/** Name under which the processor is registered. */
export const processorName = 'tap-processor';

/** What the audio thread sends: one block of every channel the device gave, and where in the stream it began. */
export interface BlockMessage {
  readonly kind: 'block';
  readonly firstFrame: number;
  /** frames by which the audio clock ran on without this input since the block before, or within this one */
  readonly missingFrames: number;
  readonly channels: readonly Float32Array<ArrayBuffer>[];
}

/** What it takes back: buffers to be filled again. */
export interface ReturnMessage {
  readonly kind: 'return';
  readonly channels: readonly Float32Array<ArrayBuffer>[];
}
