import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { EditName } from '../app/edits.ts';
import type { Workshop } from '../app/workshop.ts';
import type { InstrumentRecord } from '../record/record.ts';

export const WorkshopContext = createContext<Workshop | undefined>(undefined);

/** The workshop that the page was started with. @throws Error outside of it, which is a mistake in the page */
export function useWorkshop(): Workshop {
  const workshop = useContext(WorkshopContext);
  if (workshop === undefined) throw new Error('useWorkshop: no workshop above this view');
  return workshop;
}

/** How a view edits the record it shows: that one, whichever is open by the time the edit comes. */
export function useEditRecord(): (editName: EditName, change: (record: InstrumentRecord) => InstrumentRecord) => void {
  const { shelf } = useWorkshop();
  const shown = shelf.record.value?.id;
  return (editName, change) => {
    if (shown !== undefined) void shelf.edit(shown, editName, change);
  };
}
