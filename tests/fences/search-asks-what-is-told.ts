import { reportedModes } from '../tell/report.ts';
export const told = reportedModes;
