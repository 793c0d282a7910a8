// The tests that a mutation run asks, no browser.
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files that solve the most, asked last: what a quicker test notices needs no more. */
const SLOWEST = ['wood/board-modes', 'wood/board-constants', 'wood/peak-assignment'];
class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => SLOWEST.findIndex((name) => moduleId.includes(name));
    return (await super.sort(files)).toSorted((a, b) => rank(a) - rank(b));
  }
}

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    sequence: { sequencer: QuickFirst },
    setupFiles: 'tests/mutation/skip-slow.ts',
    // Several times slower than by themselves while each counts what it reaches; a mutant without an end is stopped from outside.
    testTimeout: 600_000,
    include: [`tests/${process.env['MUTATION_TESTS'] ?? '**'}/*.test.{ts,tsx}`],
    // These read the tree or other programs' files as they lie, or start programs; or take minutes for every mutant.
    exclude: [
      'tests/fences/**',
      'tests/terminal/**',
      'tests/views/words.test.ts',
      'tests/**/*-many.test.ts',
      'node_modules/**',
    ],
  },
});
