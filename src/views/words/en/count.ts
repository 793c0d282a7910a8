/** "1 tap", "3 taps". */
export const count = (n: number, thing: string, things = `${thing}s`): string => `${n} ${n === 1 ? thing : things}`;
