// Plays stored sounds, one after the other.
import type { Sound } from '../signal/filter/for-the-ear.ts';

/** Between two sounds, s. */
const gapS = 0.4;

export class Playback {
  private context: AudioContext | undefined;
  private sources: AudioBufferSourceNode[] = [];

  /** Call inside a press: browsers let a page sound only after one. What was playing stops. */
  play(sounds: readonly Sound[]): void {
    this.stop();
    this.context ??= new AudioContext();
    const { context } = this;
    void context.resume();
    let at = context.currentTime + 0.05;
    for (const { samples, sampleRateHz } of sounds) {
      if (samples.length === 0) continue;
      const buffer = context.createBuffer(1, samples.length, sampleRateHz);
      buffer.copyToChannel(new Float32Array(samples), 0);
      const source = new AudioBufferSourceNode(context, { buffer });
      source.connect(context.destination);
      source.start(at);
      this.sources.push(source);
      at += buffer.duration + gapS;
    }
  }

  stop(): void {
    for (const source of this.sources) source.stop();
    this.sources = [];
  }
}
