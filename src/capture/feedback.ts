// Sounds the page makes for hands that are full: short tones or a spoken sentence. Each call says for how long the
// listener must not listen at least, and `isSpeaking` while a voice goes on, so that the page never records itself.

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
  private speaking = 0;

  /** Call inside the press that starts listening: browsers let a page sound only after one. */
  unlock(): void {
    this.context ??= new AudioContext();
    void this.context.resume();
    // Some browsers fill the list of voices only after it was first asked for.
    voicesFor('');
  }

  /** Plays the tones of a cue. @returns for how long not to listen, s */
  play(cue: Cue): number {
    const context = this.context;
    if (context === undefined) return 0;
    const tones = cues[cue];
    tones.forEach((frequencyHz, i) => {
      const start = context.currentTime + i * toneS * 1.3;
      const gain = new GainNode(context);
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

  /** Whether a voice is still going on: how long a sentence takes is the voice's own affair. */
  isSpeaking(): boolean {
    return this.speaking > 0;
  }

  /**
   * Says a sentence where the browser has a voice for its language.
   * @param language tag of the language (BCP 47)
   * @returns for how long not to listen at least, s; 0 where there is no voice
   */
  say(sentence: string, language: string): number {
    const voices = voicesFor(language);
    const voice = voices.find((known) => known.localService) ?? voices[0];
    if (voice === undefined) return 0;
    const utterance = new SpeechSynthesisUtterance(sentence);
    utterance.voice = voice;
    utterance.lang = voice.lang;
    let isOver = false;
    const over = () => {
      if (!isOver) this.speaking--;
      isOver = true;
    };
    utterance.onend = over;
    utterance.onerror = over;
    this.speaking++;
    // A voice that never reports its end must not leave the bench deaf.
    setTimeout(over, longestSentenceMs);
    window.speechSynthesis.speak(utterance);
    return afterS + 0.5;
  }
}

const longestSentenceMs = 8000;

/** Voices of a language, any region of it; none where the browser does not speak. */
function voicesFor(language: string): readonly SpeechSynthesisVoice[] {
  if (!('speechSynthesis' in window)) return [];
  const wanted = language.split('-')[0] ?? '';
  return window.speechSynthesis.getVoices().filter((voice) => voice.lang.split(/[-_]/)[0] === wanted);
}
