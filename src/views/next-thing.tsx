// The one next thing to do, said on every view: what is on the bench was asked when the record was begun.
import { hashOf, type View } from '../app/place.ts';
import { type NextThing, nextThing } from '../compare/next-thing.ts';
import { hasJob } from '../compare/old-guitar-job.ts';
import { words } from './words/language.ts';
import { useWorkshop } from './workshop-context.ts';

/** Where each thing is done. */
const places: Readonly<Record<NextThing, readonly [view: View, part?: string]>> = {
  'read-board': ['wood'],
  join: ['bench'],
  'thin-top': ['wood'],
  'draw-plan': ['plan'],
  'tap-top': ['bench'],
  'set-target': ['steps'],
  'next-pass': ['steps'],
  'measure-box': ['box'],
  'tap-box': ['box', 'rounds'],
  'name-box-peaks': ['box', 'rounds'],
  'see-box': ['box', 'found'],
  photographs: ['steps'],
  'strings-on': ['box', 'strings'],
  damage: ['box', 'new-top'],
  'strings-slack': ['box', 'strings'],
  'same-air': ['steps'],
  copy: ['record'],
  heat: ['box', 'job'],
  blades: ['box', 'job'],
  dust: ['box', 'job'],
  edges: ['record'],
  'weigh-old': ['steps'],
  'photograph-inside': ['steps'],
  'old-thickness': ['box', 'new-top'],
  'old-braces': ['plan'],
  strips: ['wood'],
  'open-body': ['bench'],
  'new-wood': ['wood'],
  'match-wood': ['box', 'new-top'],
  'draw-new-top': ['plan'],
  'print-sheet': ['box', 'new-top'],
  'tap-new-top': ['bench'],
  'before-glue': ['box', 'stages'],
  'box-again': ['box', 'rounds'],
  'string-up': ['box', 'strings'],
};

export const placeOfThing = (thing: NextThing): string => hashOf(...places[thing]);

export function NextThingLine() {
  const { shelf, place } = useWorkshop();
  const thing = shelf.record.value && nextThing(shelf.record.value);
  // The list of the job says it itself.
  const isOnList = place.view.value === 'box' && ['', 'job'].includes(place.part.value);
  if (thing === undefined || place.view.value === 'settings' || (isOnList && hasJob(shelf.record.value!))) return null;
  const [view] = places[thing];
  return (
    <p class="next-thing">
      <strong>{words.shell.next}</strong> {words.shell.nextThings[thing]}{' '}
      {place.view.value !== view && <a href={placeOfThing(thing)}>{words.shell.toView(words.shell.views[view])}</a>}
    </p>
  );
}
