// Lets a seeded sample of the mutants through to the tests. What is not in the sample is told as not compiled, which is the
// only other word that a checker has.
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { CheckStatus } from '@stryker-mutator/api/check';
import { declareClassPlugin, PluginKind } from '@stryker-mutator/api/plugin';

const { MUTATION_SAMPLE: file, MUTATION_SEED: seed, MUTATION_FROM: from, MUTATION_TO: to } = process.env;

/** The same for the same code whatever its mutants are numbered. */
const ticket = (mutant) =>
  createHash('sha256')
    .update(JSON.stringify([seed, mutant.fileName.split('/src/').at(-1), mutant.location, mutant.replacement]))
    .digest('hex');

class SampleChecker {
  async init() {}

  async group(mutants) {
    const drawn = mutants.map((mutant) => [ticket(mutant), mutant.id]).toSorted();
    // One process groups for all that check.
    if (!existsSync(file))
      writeFileSync(file, JSON.stringify(drawn.slice(Number(from), Number(to)).map(([, id]) => id)));
    return mutants.map(({ id }) => [id]);
  }

  async check(mutants) {
    const sample = new Set(JSON.parse(readFileSync(file, 'utf8')));
    return Object.fromEntries(
      mutants.map(({ id }) => [
        id,
        sample.has(id)
          ? { status: CheckStatus.Passed }
          : { status: CheckStatus.CompileError, reason: 'not in the sample' },
      ]),
    );
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, 'sample', SampleChecker)];
