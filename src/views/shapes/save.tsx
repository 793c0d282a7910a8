// The measured shapes for other programs.
import { tappedPointShapes } from '../../forecast/shape-tables.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { useWorkshop } from '../workshop-context.ts';
import type { Told } from './told-round.ts';
import { shapesWords } from './words.ts';

export function SaveShapes({ record, step, round, answer }: Told) {
  const { otherFormats } = useWorkshop();
  const t = shapesWords();
  return (
    <Actions>
      {tappedPointShapes(round, answer) !== undefined && (
        <Button text={t.uff} onPress={() => void otherFormats.universalShapes(record, step, round, answer)} />
      )}
      <Button text={t.csv} onPress={() => void otherFormats.tableOfShapes(record, round, answer)} />
    </Actions>
  );
}
