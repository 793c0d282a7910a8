import { useEffect, useState } from 'preact/hooks';
import type { PieceAt } from '../../app/stock.ts';
import { useWorkshop } from '../workshop-context.ts';

/** Every piece of every record, read again when the open record or the list of records changes. */
export function useAllPieces(): readonly PieceAt[] {
  const { shelf, stock } = useWorkshop();
  const [all, setAll] = useState<readonly PieceAt[]>([]);
  const pieces = shelf.record.value?.pieces;
  const summaries = shelf.summaries.value.length;
  useEffect(() => {
    let gone = false;
    const load = async () => {
      const found = await stock.all();
      if (!gone) setAll(found);
    };
    void load();
    return () => {
      gone = true;
    };
  }, [pieces, summaries]);
  return all;
}
