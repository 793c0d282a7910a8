// The tests that a mutation run asks, no browser.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    testTimeout: 60_000,
    include: [`tests/${process.env['MUTATION_TESTS'] ?? '**'}/*.test.{ts,tsx}`],
    // These read the tree or other programs' files as they lie, or start programs.
    exclude: ['tests/fences/**', 'tests/terminal/**', 'node_modules/**'],
  },
});
