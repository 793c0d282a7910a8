// The measured shapes for other programs.
import { shapesTable, tappedPointShapes } from '../../forecast/shape-tables.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { useWorkshop } from '../workshop-context.ts';
import type { Told } from './told-round.ts';
import { shapesWords } from './words.ts';

export function SaveShapes({ record, step, round, answer }: Told) {
  const { otherFormats } = useWorkshop();
  const t = shapesWords();
  const points = tappedPointShapes(round, answer);
  return (
    <Actions>
      {points !== undefined && (
        <Button text={t.uff} onPress={() => void otherFormats.universalShapes(record, step, points)} />
      )}
      <Button
        text={t.csv}
        onPress={() => void otherFormats.tableOfShapes(record, shapesTable(record, round, answer))}
      />
    </Actions>
  );
}
