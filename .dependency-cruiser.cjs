// The direction of imports (DEVELOPERS.md, "The picture"), held by the linter.
const at = (...folders) => `^src/(${folders.join('|')})/`;
const physics = ['signal', 'brace', 'wood', 'plate', 'shapes', 'box', 'strings'];
const story = ['record', 'compare', 'forecast', 'demo'];
const shells = ['capture', 'storage', 'solver'];
const ground = ['quantity', 'algebra', 'files'];
const pure = [...ground, ...physics, ...story];
// The stages of src/signal; an earlier one knows nothing of a later one.
const sound = ['filter', 'hear', 'prepare', 'search', 'agree', 'tell'];
const forbid = (name, from, to) => ({ name, severity: 'error', from, to });
module.exports = {
  forbidden: [
    forbid('no-cycles', {}, { circular: true }),
    forbid(
      'pure-knows-no-browser-code',
      { path: at(...pure) },
      { path: [at(...shells, 'app', 'views', 'terminal'), '^worklets/'] },
    ),
    forbid(
      'pure-uses-few-packages',
      { path: at(...pure) },
      {
        path: 'node_modules/',
        pathNot: 'node_modules/(fft\\.js|meyda|valibot|delaunator|@types/delaunator|fflate)/',
      },
    ),
    forbid('ground-knows-nothing-above', { path: at(...ground) }, { path: at(...physics, ...story) }),
    forbid('physics-knows-no-record', { path: at(...physics) }, { path: at(...story) }),
    forbid(
      'signal-and-wood-know-no-plate',
      { path: at('signal', 'wood') },
      { path: at('plate', 'shapes', 'box', 'strings') },
    ),
    forbid(
      'brace-rests-on-the-ground',
      { path: at('brace') },
      { path: at('signal', 'wood', 'plate', 'shapes', 'box', 'strings') },
    ),
    ...sound.map((stage, at) =>
      forbid(
        `sound-goes-one-way-${stage}`,
        { path: `^src/signal/${stage}/` },
        { path: `^src/signal/(${[...sound.slice(at + 1), '(round|average-spectrum)\\.ts'].join('|')})` },
      ),
    ),
    forbid('signal-knows-no-wood', { path: at('signal') }, { path: at('wood', 'brace') }),
    forbid('plate-knows-no-box', { path: at('plate') }, { path: at('shapes', 'box', 'strings', 'signal') }),
    forbid('shapes-know-no-box', { path: at('shapes') }, { path: at('box', 'strings') }),
    forbid('record-knows-no-comparison', { path: at('record') }, { path: at('compare', 'forecast') }),
    forbid('compare-knows-no-forecast', { path: at('compare') }, { path: at('forecast') }),
    forbid('shells-know-no-screen', { path: at(...shells) }, { path: at('app', 'views') }),
    forbid('app-knows-no-views', { path: at('app') }, { path: at('views') }),
    forbid('views-only-render', { path: at('views') }, { path: at(...shells) }),
    forbid(
      'views-speak-the-language-chosen',
      { path: '^src/', pathNot: '^src/views/(words/|[a-z]+/words[.]ts)' },
      { path: '^src/views/words/en', dependencyTypesNot: ['type-only'] },
    ),
    forbid('worklet-takes-only-signal', { path: '^worklets/' }, { path: '^src/', pathNot: at('signal') }),
    forbid(
      'one-home-chart',
      { path: '^src/', pathNot: '^src/views/parts/chart' },
      { path: 'node_modules/chart\\.js/' },
    ),
    forbid('one-home-idb', { path: '^src/', pathNot: '^src/storage/' }, { path: 'node_modules/idb-keyval/' }),
    forbid(
      'one-home-fft',
      { path: '^src/', pathNot: '^src/signal/filter/spectrum' },
      { path: 'node_modules/fft\\.js/' },
    ),
    forbid('one-home-meyda', { path: '^src/', pathNot: '^src/signal/hear/features' }, { path: 'node_modules/meyda/' }),
    forbid('one-home-zip', { path: '^src/', pathNot: '^src/record/archive' }, { path: 'node_modules/fflate/' }),
    forbid(
      'one-home-delaunator',
      { path: '^src/', pathNot: '^src/plate/mesh-triangulation' },
      { path: 'node_modules/delaunator/' },
    ),
    forbid(
      'one-home-valibot',
      { path: '^src/', pathNot: at('record', 'storage', 'terminal') },
      { path: 'node_modules/valibot/' },
    ),
    forbid('one-home-signals', { path: '^src/', pathNot: at('app') }, { path: 'node_modules/@preact/signals/' }),
    forbid('one-home-preact', { path: '^src/', pathNot: '^src/(views/|main\\.tsx)' }, { path: 'node_modules/preact/' }),
    forbid(
      'one-home-workbox',
      { path: '^src/', pathNot: '^src/storage/offline-worker' },
      { path: 'node_modules/workbox-' },
    ),
  ],
  options: {
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
  },
};
