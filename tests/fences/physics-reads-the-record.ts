import { recordFormat } from '../record/record.ts';
export const format = recordFormat;
