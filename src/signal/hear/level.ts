// What a level display shows: slow enough to be read, with the peak held and the room's floor beside it.

/** The level of the input now, all dB re full scale. */
export interface Level {
  /** root mean square of the last 0.1 s */
  readonly rmsDb: number;
  /** highest sample of the last second */
  readonly peakDb: number;
  /** the room between the sounds, in the band of the modes; undefined until 0.1 s of it was heard */
  readonly roomDb: number | undefined;
  /** root mean square of the mains hum that is taken off; undefined where none is, and the room's level holds what there is */
  readonly humDb: number | undefined;
  /** a sample of the last second stood at full scale */
  readonly clipped: boolean;
}

/** Follows the level of a stream in steps of 1 ms. */
export class LevelMeter {
  private readonly peaks = new Float64Array(1000);
  private readonly squares = new Float64Array(100);
  private count = 0;

  /** Take the peak and the mean square of one hop of 1 ms. */
  add(peak: number, meanSquare: number): void {
    this.peaks[this.count % 1000] = peak;
    this.squares[this.count % 100] = meanSquare;
    this.count++;
  }

  read(roomPower: number | undefined, humDb: number | undefined): Level {
    let peak = 0;
    for (const x of this.peaks) peak = Math.max(peak, x);
    let sum = 0;
    for (const x of this.squares) sum += x;
    const heard = Math.max(1, Math.min(100, this.count));
    return {
      rmsDb: 10 * Math.log10(Math.max(sum / heard, 1e-20)),
      peakDb: 20 * Math.log10(Math.max(peak, 1e-10)),
      roomDb: roomPower === undefined ? undefined : 10 * Math.log10(roomPower),
      humDb,
      clipped: peak >= 0.999,
    };
  }
}
