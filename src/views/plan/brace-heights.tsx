// The heights of a brace along its length, by numbers.

import { heightAtMm, type ProfileShape, shapedProfile } from '../../brace/profile.ts';
import type { BraceReading } from '../../record/cut-place.ts';
import { planBraceLengthMm } from '../../record/plan-brace.ts';
import type { PlanBrace } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { words } from '../words/language.ts';
import { asRead } from './as-read.ts';
import { planWords } from './words.ts';

export function Heights(props: {
  readonly brace: PlanBrace;
  readonly reading: BraceReading;
  readonly isShaved: boolean;
  readonly onChange: (edit: (brace: PlanBrace) => PlanBrace) => void;
}) {
  const { brace, reading, onChange } = props;
  const t = planWords().braceForm;
  const length = planBraceLengthMm(brace);
  const highest = Math.max(0, ...brace.profile.map((point) => point.heightMm));
  const lowest = Math.min(highest, ...brace.profile.map((point) => point.heightMm));
  const lay = (shape: ProfileShape) =>
    onChange((b) => ({ ...b, profile: [...shapedProfile(shape, length, highest, lowest)] }));
  return (
    <details>
      <summary>{t.heights}</summary>
      {props.isShaved && <p class="hint">{t.shavedSince}</p>}
      <p class="hint">{t.countedFrom(reading.end)}</p>
      <Actions>
        {choices(t.shapes).map(([shape, name]) => (
          <Button key={shape} text={name} onPress={() => lay(shape)} />
        ))}
      </Actions>
      {asRead(brace.profile, ({ atMm }) => reading.turned(atMm)).map(({ one: point, i }, row) => (
        <div class="fields pair" key={i}>
          <NumberField
            label={words.fields.numbered(words.quantities.placeAlongBrace, row + 1)}
            of="placeAlongBrace"
            value={reading.turned(point.atMm)}
            onChange={(readMm) =>
              onChange((b) => ({
                ...b,
                profile:
                  readMm === undefined
                    ? b.profile.filter((_, k) => k !== i)
                    : b.profile
                        .map((p, k) => (k === i ? { ...p, atMm: reading.turned(readMm) } : p))
                        .toSorted((p, q) => p.atMm - q.atMm),
              }))
            }
          />
          <NumberField
            label={words.fields.numbered(words.quantities.braceHeight, row + 1)}
            of="braceHeight"
            value={point.heightMm}
            onSet={(heightMm) =>
              onChange((b) => ({ ...b, profile: b.profile.map((p, k) => (k === i ? { ...p, heightMm } : p)) }))
            }
          />
        </div>
      ))}
      <p class="hint">{t.emptyRemoves}</p>
      <Button
        kind="quiet"
        text={t.addPlace}
        onPress={() =>
          // In the middle, as high as the brace is there: it stays as it is until the place is moved.
          onChange((b) => ({
            ...b,
            profile: [
              ...b.profile,
              { atMm: length / 2, heightMm: b.profile.length === 0 ? 8 : heightAtMm(b.profile, length / 2) },
            ].toSorted((p, q) => p.atMm - q.atMm),
          }))
        }
      />
    </details>
  );
}
