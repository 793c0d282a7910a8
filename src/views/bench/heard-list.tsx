import { Button } from '../parts/actions.tsx';
import { number } from '../parts/figures.ts';
import { refusalWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

/** The last sounds and what became of them, newest first. */
export function HeardList() {
  const { bench } = useWorkshop();
  const lines = bench.heard.value.slice(-5).reverse();
  if (lines.length === 0) return null;
  return (
    <ul class="heard">
      {lines.map((line) => (
        <li key={line.number} class={line.kind}>
          <span class="heard-mark" aria-hidden="true">
            {line.kind === 'accepted' || line.keptAnyway ? '●' : '×'}
          </span>
          {line.kind === 'accepted' ? (
            <span>{words.bench.tapKept(number(line.aboveRoomDb, 0))}</span>
          ) : (
            <span>
              {line.keptAnyway ? words.bench.keptAllTheSame(refusalWords(line.refusal)) : refusalWords(line.refusal)}
            </span>
          )}
          {line.kind === 'refused' && !line.keptAnyway && (
            <Button kind="quiet" text={words.bench.keepAnyway} onPress={() => void bench.keepAnyway(line.number)} />
          )}
        </li>
      ))}
    </ul>
  );
}
