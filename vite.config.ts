import { readFileSync } from 'node:fs';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { licences } from './src/terminal/licences.ts';

// The policy also travels inside the page, for hosts that send no headers. Not in development: the dev client injects
// inline styles.
const policy = readFileSync(new URL('src/terminal/content-security-policy.txt', import.meta.url), 'utf8').trim();
const policyInPage = {
  name: 'content-security-policy',
  apply: 'build' as const,
  transformIndexHtml: (html: string) =>
    html.replace('<head>', `<head>\n    <meta http-equiv="Content-Security-Policy" content="${policy}" />`),
};

// No module of ours or of a package does anything when one of its properties is read; without this, classes that nobody
// uses stay in.
const unusedGoes = { propertyReadSideEffects: false } as const;

// How long each plugin took is no warning.
const quiet = { pluginTimings: false } as const;

// What the first view needs is one file, what several other views share another, the views of the record a third: one file
// packs better than thirty, and is asked for once. Sentences pack best among sentences.
const fewFiles = {
  groups: [
    { name: 'first', tags: ['$initial' as const], priority: 2 },
    { name: 'words', test: /src\/views\/words\//, priority: 1.5 },
    { name: 'shared', test: /src\/(?!views)/, minShareCount: 2, priority: 1.2 },
    { name: 'drawn', minShareCount: 2, priority: 1 },
    { name: 'records', test: /src\/views\/(record|settings)/, priority: 0.9 },
  ],
};

// Tests of the folders that know no page, no storage and no clock (.dependency-cruiser.cjs).
const ofPureCode = [
  'tests/{algebra,box,brace,compare,demo,files,forecast,plate,published,quantity,record,reference,shapes,signal,strings,wood}/**/*.test.ts',
];

// Part of the longer tier: statistics over many invented cases, and a command that starts a Node for every answer.
const manyCases = ['tests/**/*-many.test.ts', 'tests/terminal/analyse.test.ts'];

// Both tiers that drive a Chromium.
const inBrowser = {
  environment: 'node',
  globalSetup: 'tests/browser/build-once.ts',
  testTimeout: 300_000,
  hookTimeout: 300_000,
  // A state is waited for until the test itself ends.
  expect: { poll: { timeout: 240_000 } },
} as const;

const { ofPage, ofWorker } = licences();

export default defineConfig({
  base: './',
  publicDir: 'src/static',
  worker: { format: 'es', plugins: () => [ofWorker], rolldownOptions: { treeshake: unusedGoes, checks: quiet } },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    target: 'es2022',
    assetsInlineLimit: 0,
    // Browsers for this target fetch ahead by themselves.
    modulePreload: { polyfill: false },
    rolldownOptions: { treeshake: unusedGoes, checks: quiet, output: { codeSplitting: fewFiles } },
  },
  plugins: [
    policyInPage,
    ofPage,
    VitePWA({
      registerType: 'prompt',
      injectRegister: false,
      workbox: { globPatterns: ['**/*.{js,css,html,svg,png,webmanifest,json,txt}'], navigateFallback: 'index.html' },
      manifest: {
        name: 'Platewright',
        short_name: 'Platewright',
        description: 'Tap a guitar plate, read its modes, foresee the next shaving.',
        display: 'standalone',
        background_color: '#f5f1e8',
        theme_color: '#0f5450',
        icons: [{ src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' }],
      },
    }),
  ],
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'pure',
          environment: 'node',
          testTimeout: 60_000,
          include: ofPureCode,
          exclude: manyCases,
          // Pure code keeps no state between files: each module is loaded once, not once a file.
          isolate: false,
          maxWorkers: 2,
        },
      },
      {
        extends: true,
        test: {
          name: 'unit',
          environment: 'node',
          testTimeout: 60_000,
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: [...ofPureCode, ...manyCases],
          maxWorkers: 2,
        },
      },
      {
        extends: true,
        test: { name: 'many', environment: 'node', testTimeout: 300_000, include: manyCases, maxWorkers: 2 },
      },
      {
        extends: true,
        test: {
          ...inBrowser,
          name: 'browser',
          include: ['tests/browser/*.e2e.ts'],
          // Taps are heard in real time, so that a browser waits more than it computes: two at once, after the unit tests.
          maxWorkers: 2,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          ...inBrowser,
          name: 'long',
          include: ['tests/browser/long/*.e2e.ts'],
          // Minutes of listening in real time: a browser that is kept waiting loses sound, so nothing else runs beside it.
          maxWorkers: 1,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
