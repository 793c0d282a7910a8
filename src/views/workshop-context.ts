import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Workshop } from '../app/workshop.ts';

export const WorkshopContext = createContext<Workshop | undefined>(undefined);

/** The workshop that the page was started with. @throws Error outside of it, which is a mistake in the page */
export function useWorkshop(): Workshop {
  const workshop = useContext(WorkshopContext);
  if (workshop === undefined) throw new Error('useWorkshop: no workshop above this view');
  return workshop;
}
