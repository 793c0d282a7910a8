import { beforeAll, describe, expect, test, vi } from 'vitest';
import { type BlockMessage, blockFrames } from '../../worklets/block-message.ts';

interface Processor {
  readonly port: {
    posted: { message: BlockMessage; transfer: ArrayBuffer[] }[];
    onmessage: ((event: { data: unknown }) => void) | null;
  };
  process(inputs: Float32Array[][]): boolean;
}

let Registered: new () => Processor;
beforeAll(async () => {
  class Base {
    readonly port = {
      posted: [] as { message: unknown; transfer: unknown }[],
      onmessage: null,
      postMessage(message: unknown, transfer: unknown) {
        this.posted.push({ message, transfer });
      },
    };
  }
  vi.stubGlobal('AudioWorkletProcessor', Base);
  vi.stubGlobal('registerProcessor', (_name: string, processor: new () => Processor) => {
    Registered = processor;
  });
  vi.stubGlobal('currentFrame', 0);
  await import('../../worklets/tap-processor.ts');
});

/** A ramp that makes every sample of the stream known by its index. */
function feed(processor: Processor, quanta: number, channels = 1, from = 0): void {
  for (let k = from; k < from + quanta; k++) {
    vi.stubGlobal('currentFrame', k * 128);
    const ramp = Float32Array.from({ length: 128 }, (_, n) => k * 128 + n);
    processor.process([Array.from({ length: channels }, (_, c) => ramp.map((x) => x * (c + 1)))]);
  }
}

describe('the processor on the audio thread', () => {
  test('hands over every sample once, in order, with the frame it began at', () => {
    const processor = new Registered();
    feed(processor, 48);
    const blocks = processor.port.posted.map((post) => post.message);
    expect(blocks).toHaveLength((48 * 128) / blockFrames);
    const heard = blocks.flatMap((block) => [...block.channels[0]!]);
    expect(heard.findIndex((sample, i) => sample !== i)).toBe(-1);
    expect(blocks.map((block) => block.firstFrame)).toEqual([0, blockFrames, 2 * blockFrames]);
  });

  test('frames that the clock shows and the input did not bring are counted, once, in the block they are missing from', () => {
    const processor = new Registered();
    feed(processor, 5, 1, 40);
    feed(processor, 15, 1, 47); // two quanta are gone
    feed(processor, 16, 1, 62);
    const missing = processor.port.posted.map(({ message }) => message.missingFrames);
    expect(missing).toEqual([2 * 128, 0]);
  });

  test('every channel of the device is handed over, each in its own buffer, and the buffers are transferred', () => {
    const processor = new Registered();
    feed(processor, 16, 2);
    const { message, transfer } = processor.port.posted[0]!;
    expect(message.channels[1]![5]).toBe(10);
    expect(transfer).toEqual(message.channels.map((channel) => channel.buffer));
    expect(message.channels[0]!.buffer).not.toBe(message.channels[1]!.buffer);
  });

  test('buffers that come back are filled again instead of new ones being made', () => {
    const processor = new Registered();
    feed(processor, 16);
    const first = processor.port.posted[0]!.message.channels[0]!;
    processor.port.onmessage?.({ data: { kind: 'return', channels: [first] } });
    feed(processor, 16, 1, 16);
    expect(processor.port.posted[1]!.message.channels[0]).toBe(first);
  });

  test('a device without input yet, or one that changes its channels in the middle of a block, does not throw', () => {
    const processor = new Registered();
    expect(processor.process([[]])).toBe(true);
    expect(processor.process([])).toBe(true);
    feed(processor, 3, 1);
    feed(processor, 16, 2, 3);
    expect(processor.port.posted[0]!.message.channels).toHaveLength(2);
    expect(processor.port.posted[0]!.message.firstFrame).toBe(3 * 128);
  });
});
