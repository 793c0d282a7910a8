// Where a piece is held and struck for each of its modes.
import { plateWoodOf, sizesOf, startOf } from '../../compare/piece-reading.ts';
import type { Piece } from '../../record/record.ts';
import { withShear } from '../../wood/elastic-start.ts';
import type { HoldGuide } from '../../wood/hold-guide.ts';
import { boardOf } from '../../wood/measured-board.ts';
import { stickGuides } from '../../wood/stick-guide.ts';
import { useWorkshop } from '../workshop-context.ts';

export const isStick = ({ kind }: Piece): boolean => kind === 'brace-stock' || kind === 'bridge-blank';

export type Guide = Omit<HoldGuide, 'expectedHz'> & { readonly expectedHz?: number };

/** Guides of the piece; undefined while they are computed or where sizes are missing. */
export function useGuides(piece: Piece): readonly Guide[] | undefined {
  const { answers } = useWorkshop();
  const board = sizesOf(piece);
  if (board === undefined) return undefined;
  if (isStick(piece)) return stickGuides(board.lengthMm.value, board.widthMm.value);
  const start = startOf(piece);
  const wood = plateWoodOf(piece);
  const elastic = withShear(
    wood === undefined
      ? {
          eLongPa: start.eLongPa.value,
          eCrossPa: start.eCrossPa.value,
          gPa: start.gPa.value,
          nuLR: start.nuLR.value,
        }
      : {
          eLongPa: wood.eLongGpa.value * 1e9,
          eCrossPa: wood.eCrossGpa.value * 1e9,
          gPa: wood.gGpa.value * 1e9,
          nuLR: wood.nuLR,
        },
    start.shearRatios,
  );
  const state = answers.of('hold-guides', { ...boardOf(board), elastic }).value;
  return state.kind === 'answer' ? state.answer : undefined;
}
