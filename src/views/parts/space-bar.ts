import { useEffect } from 'preact/hooks';
import { useWorkshop } from '../workshop-context.ts';

/** Space presses the large button of the listening part, unless it is needed to type or to press something else. */
export function useSpaceBar(): void {
  const { preferences } = useWorkshop();
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.key !== ' ' || !preferences.settings.value.spaceBar) return;
      const target = event.target instanceof HTMLElement ? event.target : undefined;
      if (target?.closest('input, textarea, select, button, a, summary')) return;
      const button = document.querySelector<HTMLButtonElement>('.listening .big');
      if (button === null) return;
      event.preventDefault();
      button.click();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, []);
}
