// Two bands of a sound, measured every millisecond: what the listener watches for strikes.

/** Mean square of the band around the modes (`low`, 60 to 2000 Hz) and of the contact's noise (`high`, above), by hop. */
export interface BandEnergy {
  readonly low: number;
  readonly high: number;
}

/** The length of one hop: 1 ms, in whole samples. */
export function hopLength(sampleRateHz: number): number {
  return Math.round(sampleRateHz / 1000);
}

/**
 * A second-order section: the filter `y = b0 x + ... - a1 y1 - a2 y2` with its state.
 * Source: R. Bristow-Johnson, Audio EQ Cookbook, low-pass, high-pass and band-pass (0 dB at its peak) forms (bilinear transform).
 */
export class Biquad {
  private s1 = 0;
  private s2 = 0;
  private readonly b0: number;
  private readonly b1: number;
  private readonly b2: number;
  private readonly a1: number;
  private readonly a2: number;

  constructor(kind: 'low-pass' | 'high-pass' | 'band-pass', cornerHz: number, q: number, sampleRateHz: number) {
    const omega = (2 * Math.PI * cornerHz) / sampleRateHz;
    const alpha = Math.sin(omega) / (2 * q);
    const cosine = Math.cos(omega);
    const a0 = 1 + alpha;
    const edge = kind === 'low-pass' ? 1 - cosine : 1 + cosine;
    if (kind === 'band-pass') [this.b0, this.b1, this.b2] = [alpha / a0, 0, -alpha / a0];
    else {
      this.b0 = edge / 2 / a0;
      this.b1 = ((kind === 'low-pass' ? 1 : -1) * edge) / a0;
      this.b2 = this.b0;
    }
    this.a1 = (-2 * cosine) / a0;
    this.a2 = (1 - alpha) / a0;
  }

  /** The next output sample (transposed direct form II). */
  step(x: number): number {
    const y = this.b0 * x + this.s1;
    this.s1 = this.b1 * x - this.a1 * y + this.s2;
    this.s2 = this.b2 * x - this.a2 * y;
    return y;
  }
}

const BUTTERWORTH_4 = [0.541196100146197, 1.3065629648763766]; // Q of the two sections of a 4th-order Butterworth

/** Splits a stream into the two bands and gives their energy hop by hop, whatever the block lengths. */
export class BandMeter {
  private readonly lowFilters: Biquad[];
  private readonly highFilters: Biquad[];
  private readonly hop: number;
  private count = 0;
  private lowSum = 0;
  private highSum = 0;

  constructor(sampleRateHz: number) {
    this.hop = hopLength(sampleRateHz);
    this.lowFilters = [
      new Biquad('high-pass', 60, Math.SQRT1_2, sampleRateHz),
      new Biquad('low-pass', 2000, Math.SQRT1_2, sampleRateHz),
    ];
    this.highFilters = BUTTERWORTH_4.map((q) => new Biquad('high-pass', 2000, q, sampleRateHz));
    if (sampleRateHz > 24_000) this.highFilters.push(new Biquad('low-pass', 8000, Math.SQRT1_2, sampleRateHz));
  }

  /** Take one sample; the energies of the hop it completes, if it does. */
  step(x: number): BandEnergy | undefined {
    const low = this.lowFilters[1]!.step(this.lowFilters[0]!.step(x));
    let high = x;
    for (const filter of this.highFilters) high = filter.step(high);
    this.lowSum += low * low;
    this.highSum += high * high;
    if (++this.count < this.hop) return undefined;
    const energy = { low: this.lowSum / this.hop, high: this.highSum / this.hop };
    this.count = 0;
    this.lowSum = 0;
    this.highSum = 0;
    return energy;
  }
}

/** The energies of the whole hops of a stretch that begins with a hop. */
export function energiesOf(samples: Float32Array, meter: BandMeter): BandEnergy[] {
  const energies: BandEnergy[] = [];
  for (const x of samples) {
    const energy = meter.step(x);
    if (energy !== undefined) energies.push(energy);
  }
  return energies;
}
