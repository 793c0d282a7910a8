// The tests that a mutation run asks, no browser.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    // Several times slower than by themselves while each counts what it reaches; a mutant without an end is stopped from outside.
    testTimeout: 600_000,
    include: [`tests/${process.env['MUTATION_TESTS'] ?? '**'}/*.test.{ts,tsx}`],
    // These read the tree or other programs' files as they lie, or start programs; or take minutes for every mutant.
    exclude: ['tests/fences/**', 'tests/terminal/**', 'tests/**/*-many.test.ts', 'node_modules/**'],
  },
});
