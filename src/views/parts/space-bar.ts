import { useEffect, useRef } from 'preact/hooks';
import { useWorkshop } from '../workshop-context.ts';

/** Space does this, unless it is needed to type or to press something else. @param press undefined while it does nothing */
export function useSpaceBar(press: (() => void) | undefined): void {
  const { preferences } = useWorkshop();
  const latest = useRef(press);
  latest.current = press;
  const isUsed = press !== undefined;
  useEffect(() => {
    if (!isUsed) return undefined;
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== ' ' || !preferences.settings.value.spaceBar) return;
      const target = event.target instanceof HTMLElement ? event.target : undefined;
      if (target?.closest('input, textarea, select, button, a, summary')) return;
      event.preventDefault();
      latest.current?.();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [isUsed]);
}
