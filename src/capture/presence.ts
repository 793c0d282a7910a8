// Whether the page can be seen, and keeping the screen awake while it listens.

/** Calls back when the page is hidden or shown. @returns undoes it */
export function onPresence(change: (visible: boolean) => void): () => void {
  const listener = () => change(document.visibilityState === 'visible');
  document.addEventListener('visibilitychange', listener);
  return () => document.removeEventListener('visibilitychange', listener);
}

/** Keeps the screen on where the browser can; a wish, never relied upon. @returns lets it sleep again */
export async function keepAwake(): Promise<() => void> {
  try {
    const lock = await navigator.wakeLock?.request('screen');
    return () => void lock?.release();
  } catch (cause) {
    // Refused on low battery or without support; listening goes on all the same.
    if (!(cause instanceof DOMException)) throw cause;
    return () => undefined;
  }
}
