// Whether the page can be seen, and keeping the screen awake while it listens.

/** Calls back when the page is hidden or shown. @returns undoes it */
export function onPresence(change: (visible: boolean) => void): () => void {
  const listener = () => change(document.visibilityState === 'visible');
  document.addEventListener('visibilitychange', listener);
  return () => document.removeEventListener('visibilitychange', listener);
}

/**
 * Keeps the screen on where the browser can; a wish, never relied upon. Browsers let it go when the page is hidden: it is
 * asked for again whenever the page is seen.
 * @returns lets the screen sleep again
 */
export function keepAwake(): () => void {
  let lock: WakeLockSentinel | undefined;
  let wanted = true;
  const ask = async (): Promise<void> => {
    if (document.visibilityState !== 'visible' || (lock !== undefined && !lock.released)) return;
    try {
      lock = await navigator.wakeLock?.request('screen');
    } catch (cause) {
      // Refused on low battery or without support; listening goes on all the same.
      if (!(cause instanceof DOMException)) throw cause;
    }
    if (!wanted) void lock?.release();
  };
  void ask();
  const unwatch = onPresence(() => void ask());
  return () => {
    wanted = false;
    unwatch();
    void lock?.release();
  };
}
