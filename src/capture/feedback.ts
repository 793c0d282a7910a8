// Sounds the page makes for hands that are full: two short tones or a spoken number. Each call says for how long the
// listener must not listen, so that the page never records itself.

/** What a tone stands for. */
export type Cue = 'kept' | 'refused' | 'hold-done' | 'round-done';

const cues: Readonly<Record<Cue, readonly number[]>> = {
  kept: [1320],
  refused: [330, 330],
  'hold-done': [880, 1175],
  'round-done': [880, 1175, 1568],
};

const toneS = 0.09;
/** Loudspeakers and rooms ring on; nothing is believed until this long after the last tone. */
const afterS = 0.3;

export class Feedback {
  private context: AudioContext | undefined;

  /** Call inside the press that starts listening: browsers let a page sound only after one. */
  unlock(): void {
    this.context ??= new AudioContext();
    void this.context.resume();
  }

  /** Plays the tones of a cue. @returns for how long not to listen, s */
  play(cue: Cue): number {
    const context = this.context;
    if (context === undefined) return 0;
    const tones = cues[cue];
    tones.forEach((frequencyHz, i) => {
      const start = context.currentTime + i * toneS * 1.3;
      const gain = new GainNode(context, { gain: 0 });
      gain.gain.setValueAtTime(0, start);
      gain.gain.linearRampToValueAtTime(0.15, start + 0.01);
      gain.gain.linearRampToValueAtTime(0, start + toneS);
      const tone = new OscillatorNode(context, { frequency: frequencyHz });
      tone.connect(gain).connect(context.destination);
      tone.start(start);
      tone.stop(start + toneS);
    });
    return tones.length * toneS * 1.3 + afterS;
  }

  /** Says a sentence where the browser has a voice. @returns for how long not to listen, s; 0 where it has none */
  say(sentence: string): number {
    if (!('speechSynthesis' in window) || window.speechSynthesis.getVoices().length === 0) return 0;
    const utterance = new SpeechSynthesisUtterance(sentence);
    const local = window.speechSynthesis.getVoices().find((voice) => voice.localService);
    if (local !== undefined) utterance.voice = local;
    window.speechSynthesis.speak(utterance);
    return 1 + 0.4 * sentence.split(' ').length + afterS;
  }
}
