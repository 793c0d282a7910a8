// The unit tests alone: the mutation run asks them, and no browser.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    environment: 'node',
    testTimeout: 60_000,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    // These read the tree or other programs' files as they lie, or start programs.
    exclude: ['tests/fences/**', 'tests/terminal/**', 'node_modules/**'],
  },
});
