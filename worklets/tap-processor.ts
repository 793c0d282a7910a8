// Runs on the audio thread: copies what the microphone gave into blocks, counts what is missing, hands both over, nothing
// else. It must not allocate in the steady state and must never throw, or the sound has gaps that no counter shows.
import { type BlockMessage, blockFrames, processorName, type ReturnMessage } from './block-message.ts';

class TapProcessor extends AudioWorkletProcessor {
  private readonly spare: Float32Array<ArrayBuffer>[] = [];
  private filling: Float32Array<ArrayBuffer>[] = [];
  private filled = 0;
  private firstFrame = 0;
  private nextFrame = -1; // none yet: what came before the first input is not missing
  private missingFrames = 0;

  constructor(options: never) {
    super(options);
    this.port.onmessage = (event) => {
      const message = event.data as ReturnMessage;
      if (message.kind === 'return') this.spare.push(...message.channels);
    };
  }

  process(inputs: readonly (readonly Float32Array[])[]): boolean {
    const input = inputs[0];
    const channels = input?.length ?? 0;
    if (input === undefined || channels === 0) return true;
    if (this.filled === 0 || this.filling.length !== channels) this.begin(channels);
    const quantum = input[0]!.length;
    if (this.nextFrame >= 0) this.missingFrames += Math.max(0, currentFrame - this.nextFrame);
    this.nextFrame = currentFrame + quantum;
    for (let c = 0; c < channels; c++) this.filling[c]!.set(input[c]!, this.filled);
    this.filled += quantum;
    if (this.filled + quantum > blockFrames) this.handOver();
    return true;
  }

  private begin(channels: number): void {
    this.filled = 0;
    this.firstFrame = currentFrame;
    this.filling = [];
    for (let c = 0; c < channels; c++) this.filling.push(this.spare.pop() ?? new Float32Array(blockFrames));
  }

  private handOver(): void {
    const { firstFrame, missingFrames } = this;
    const message: BlockMessage = { kind: 'block', firstFrame, missingFrames, channels: this.filling };
    this.missingFrames = 0;
    this.port.postMessage(
      message,
      this.filling.map((channel) => channel.buffer),
    );
    this.filled = 0;
  }
}

registerProcessor(processorName, TapProcessor);
