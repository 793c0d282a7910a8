// What the parts of the plan weigh.
import type { PlanMass } from '../../record/plan-mass.ts';
import type { Plan } from '../../record/record.ts';
import { Emphasised } from '../parts/emphasised.tsx';
import { useLength, useMass } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { planWords } from './words.ts';

export function Masses(props: { readonly plan: Plan; readonly mass: PlanMass }) {
  const { mass, plan } = props;
  const t = planWords();
  const [grams, place, off] = [useMass(), useLength(), useLength('rule', 1)];
  return (
    <div class="plan-mass">
      <p>
        <Emphasised
          text={t.drawn(grams(mass.totalG), place(mass.centre[0]), off(Math.abs(mass.centre[1])))}
          part={grams(mass.totalG)}
        />
      </p>
      <details>
        <summary>{t.masses}</summary>
        <Table
          rows={[
            [t.plate, grams(mass.plateG)],
            [t.bridgePlate, grams(mass.bridgePlateG)],
            ...plan.braces.map((brace) => [brace.name, grams(mass.bracesG.get(brace.id) ?? 0)]),
          ]}
        />
        <p class="hint">{t.massHint}</p>
      </details>
    </div>
  );
}
