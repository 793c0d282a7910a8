// Which microphone is used, and what the browser does to its sound.
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function MicrophoneLine() {
  const { bench } = useWorkshop();
  const facts = bench.microphone.value;
  if (facts === undefined) return null;
  const processing = [
    [words.bench.processing.echo, facts.echoCancellation],
    [words.bench.processing.noise, facts.noiseSuppression],
    [words.bench.processing.gain, facts.autoGainControl],
  ] as const;
  const kept = processing.filter(([, state]) => state === 'on').map(([name]) => name);
  const unknown = processing.filter(([, state]) => state === 'unknown').map(([name]) => name);
  const inUse = words.bench.inUse(facts.label === '' ? words.bench.microphone : facts.label, facts.sampleRateHz);
  return (
    <div class="microphone">
      <p class="hint">
        {unknown.length > 0
          ? words.bench.notSaid(inUse, unknown)
          : kept.length === 0
            ? words.bench.unprocessed(inUse)
            : inUse}
      </p>
      {kept.length > 0 && (
        <p class="stop" role="alert">
          {words.bench.keptOn(kept)}
        </p>
      )}
      {facts.sampleRateHz < 32_000 && (
        <p class="stop" role="alert">
          {words.bench.slow(facts.sampleRateHz)}
        </p>
      )}
    </div>
  );
}
