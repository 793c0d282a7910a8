import { bench } from './words/en/bench.ts';
export const said = bench.title;
