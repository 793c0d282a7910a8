// Every instrument with what it is sorted by; a page at a time, narrowed as the maker types.

import { useState } from 'preact/hooks';
import { type LibraryCard, type LibraryFilter, passes } from '../../../compare/library.ts';
import { type BracingPattern, patterns } from '../../../record/plan-patterns.ts';
import { type Stage, stages } from '../../../record/record.ts';
import { Button } from '../../parts/actions.tsx';
import { Card } from '../../parts/card.tsx';
import { CheckField, ChoiceField } from '../../parts/choice-field.tsx';
import { withHalfWidth } from '../../parts/figures.ts';
import { TextField } from '../../parts/text-field.tsx';
import { planWords } from '../../plan/words.ts';
import { speciesWord } from '../../wood/words.ts';
import { midSentence, stageWords } from '../../words/codes.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';

const pageLength = 10;

export const everything: LibraryFilter = {
  text: '',
  stage: undefined,
  species: undefined,
  pattern: undefined,
  model: undefined,
  favouritesOnly: false,
};

interface ListProps {
  readonly cards: readonly LibraryCard[];
  readonly filter: LibraryFilter;
  readonly onFilter: (filter: LibraryFilter) => void;
  readonly chosen: ReadonlySet<string>;
  readonly onChoose: (id: string, isChosen: boolean) => void;
}

export function LibraryList(props: ListProps) {
  const { cards, filter } = props;
  const [page, setPage] = useState(0);
  const t = words.ownLibrary;
  const matching = cards
    .filter(({ facts }) => passes(facts, filter))
    .toSorted((a, b) => b.facts.lastAtIso.localeCompare(a.facts.lastAtIso));
  const last = Math.max(0, Math.ceil(matching.length / pageLength) - 1);
  const from = Math.min(page, last) * pageLength;
  const shown = matching.slice(from, from + pageLength);
  const change = (part: Partial<LibraryFilter>) => {
    setPage(0);
    props.onFilter({ ...filter, ...part });
  };
  return (
    <Card>
      <Filters cards={cards} filter={filter} onChange={change} />
      <p class="hint" role="status">
        {t.shown(matching.length, cards.length)}
      </p>
      {matching.length === 0 && cards.length > 0 && <p>{t.none}</p>}
      <ul class="instruments">
        {shown.map((card) => (
          <li key={card.facts.id}>
            <Row
              card={card}
              isChosen={props.chosen.has(card.facts.id)}
              onChoose={(isChosen) => props.onChoose(card.facts.id, isChosen)}
            />
          </li>
        ))}
      </ul>
      {matching.length > pageLength && (
        <nav class="actions" aria-label={t.pages}>
          <Button text={t.previous} isDisabled={from === 0} onPress={() => setPage(Math.min(page, last) - 1)} />
          <span>{t.page(from + 1, Math.min(from + pageLength, matching.length), matching.length)}</span>
          <Button text={t.next} isDisabled={from + pageLength >= matching.length} onPress={() => setPage(page + 1)} />
        </nav>
      )}
    </Card>
  );
}

const distinct = (values: readonly string[]): readonly string[] =>
  [...new Set(values)].toSorted((a, b) => a.localeCompare(b));

function Filters(props: {
  readonly cards: readonly LibraryCard[];
  readonly filter: LibraryFilter;
  readonly onChange: (part: Partial<LibraryFilter>) => void;
}) {
  const { filter, onChange } = props;
  const t = words.ownLibrary;
  const facts = props.cards.map((card) => card.facts);
  const models = distinct(facts.map(({ model }) => model.trim()));
  const anyOr = (options: readonly (readonly [string, string])[]) => [['any', t.any] as const, ...options];
  const known = (value: string) => (value === 'any' ? undefined : value);
  return (
    <>
      <div class="fields">
        <TextField
          label={t.find}
          value={filter.text}
          onType={(text) => onChange({ text })}
          onChange={() => undefined}
        />
        <ChoiceField
          label={t.stage}
          value={filter.stage ?? 'any'}
          options={anyOr(
            stages
              .filter((stage) => facts.some(({ lastStage }) => lastStage === stage))
              .map((stage) => [stage, stageWords[stage]]),
          )}
          onChange={(stage) => onChange({ stage: known(stage) as Stage | undefined })}
        />
        <ChoiceField
          label={t.species}
          value={filter.species ?? 'any'}
          options={anyOr(distinct(facts.flatMap(({ species }) => species)).map((id) => [id, speciesWord(id)]))}
          onChange={(species) => onChange({ species: known(species) })}
        />
        <ChoiceField
          label={t.pattern}
          value={filter.pattern ?? 'any'}
          options={anyOr(
            patterns
              .filter((pattern) => facts.some((one) => one.pattern === pattern))
              .map((pattern) => [pattern, planWords().patterns[pattern]]),
          )}
          onChange={(pattern) => onChange({ pattern: known(pattern) as BracingPattern | undefined })}
        />
        <ChoiceField
          label={t.model}
          value={filter.model === undefined ? 'any' : `= ${filter.model}`}
          options={anyOr(models.map((model) => [`= ${model}`, model === '' ? t.noModel : model]))}
          onChange={(model) => onChange({ model: known(model)?.slice(2) })}
        />
      </div>
      <CheckField
        label={t.favouritesOnly}
        value={filter.favouritesOnly}
        onChange={(lovedOnly) => onChange({ favouritesOnly: lovedOnly })}
      />
    </>
  );
}

function Row(props: {
  readonly card: LibraryCard;
  readonly isChosen: boolean;
  readonly onChoose: (isChosen: boolean) => void;
}) {
  const { shelf } = useWorkshop();
  const { facts, entries } = props.card;
  const t = words.ownLibrary;
  const isOpen = shelf.record.value?.id === facts.id;
  const last = entries.toSorted((a, b) => b.atIso.localeCompare(a.atIso))[0];
  const about = [
    facts.model,
    facts.lastStage === undefined ? t.notBegun : midSentence(stageWords[facts.lastStage]),
    ...facts.species.map(speciesWord),
    facts.pattern === undefined ? '' : planWords().patterns[facts.pattern],
    isOpen ? t.onBench : '',
  ];
  const modes =
    last === undefined
      ? t.noModes
      : [...last.modes].map(([name, hz]) => `${name} ${withHalfWidth(hz, 'Hz')}`).join(', ');
  return (
    <div class={isOpen ? 'instrument open' : 'instrument'}>
      <div class="in-library-name">
        <strong>{facts.name}</strong>
        {facts.loved && <span class="tag loved">★ {t.loved}</span>}
        <span class="hint">{about.filter((part) => part !== '').join(' · ')}</span>
        <span class="hint">{modes}</span>
      </div>
      <span class="row-actions">
        <label class="in-library-tick">
          <input
            type="checkbox"
            aria-label={t.compare(facts.name)}
            checked={props.isChosen}
            onChange={(event) => props.onChoose(event.currentTarget.checked)}
          />
          {t.compareShort}
        </label>
        {!isOpen && (
          <Button
            kind="quiet"
            text={
              <>
                {t.open}
                <span class="visually-hidden"> {facts.name}</span>
              </>
            }
            onPress={() => void shelf.open(facts.id)}
          />
        )}
      </span>
    </div>
  );
}
