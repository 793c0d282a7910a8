import type { Shapes } from '../../app/shapes.ts';
import { useWorkshop } from '../workshop-context.ts';

/** The rounds from spot to spot. @throws Error before they were fetched: this view is shown after that */
export function useShapes(): Shapes {
  const shapes = useWorkshop().shapes.now.value;
  if (shapes === undefined) throw new Error('useShapes: not fetched yet');
  return shapes;
}
