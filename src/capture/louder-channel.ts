/** Microphones that come as two channels: the louder one is taken, since adding two that are apart makes a comb. */
export class LouderChannel {
  private readonly energy: number[] = [];
  private chosen = 0;

  /** The samples of the louder channel so far; it changes only for one that is clearly louder, so as not to flicker. */
  choose(channels: readonly Float32Array[]): Float32Array {
    channels.forEach((channel, c) => {
      let sum = 0;
      for (const sample of channel) sum += sample * sample;
      this.energy[c] = 0.9 * (this.energy[c] ?? 0) + sum;
      if (this.energy[c] > 4 * (this.energy[this.chosen] ?? 0)) this.chosen = c;
    });
    return channels[this.chosen] ?? channels[0] ?? new Float32Array(0);
  }
}
