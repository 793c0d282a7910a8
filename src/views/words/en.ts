// English: the language every other one is measured by. A language is one object of this shape; a missing or surplus
// key, or a sentence that takes other figures, does not compile.
import { bench } from './en/bench.ts';
import { codes } from './en/codes.ts';
import { edits } from './en/edits.ts';
import { exchange } from './en/exchange.ts';
import { fields } from './en/fields.ts';
import { ownLibrary } from './en/library.ts';
import { quantityWords as quantities } from './en/quantities.ts';
import { record } from './en/record.ts';
import { report } from './en/report.ts';
import { settings } from './en/settings.ts';
import { shell } from './en/shell.ts';
import { spoken } from './en/spoken.ts';
import { steps } from './en/steps.ts';

export const en = {
  shell,
  edits,
  bench,
  steps,
  record,
  exchange,
  ownLibrary,
  report,
  settings,
  fields,
  quantities,
  spoken,
  codes,
};
