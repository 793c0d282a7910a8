export const width = (): number => window.innerWidth + performance.now();
