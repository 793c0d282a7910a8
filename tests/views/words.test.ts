// The text of the page stands in the language files. Views whose text has been moved there hold none of their own.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { modeNames, spotWord, stageWords } from '../../src/views/words/codes.ts';
import { languageNames, speak, words } from '../../src/views/words/language.ts';

const folder = path.resolve(import.meta.dirname, '../../src/views');

/** Every view and what helps it; the folder of the languages beneath is left out. */
const languages = [path.join('words', 'en'), path.join('words', 'language.ts')];
const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(
  (name) => /\.tsx?$/.test(name) && !languages.some((known) => name.startsWith(known)),
);

/** Symbols of units and of CSS, and the name of the program: the same in every language. */
const signs = ['Hz', 'dB', 'GPa', 'mm', 'kg', 'lb', 'RH', 'MPa', 'px', 'Platewright'];
/** Mode names are stored in records as they are. */
const stored: readonly string[] = modeNames;
/** Two letters in a row are a word; signs and single letters of formulas are not. */
const isText = (text: string): boolean =>
  (text.match(/\p{L}{2,}/gu) ?? []).some((word) => !signs.includes(word)) && !stored.includes(text);

/** Two words, a capital first, or a word set off for what comes before or after: no name of a class or a code. */
const isPhrase = (text: string): boolean =>
  isText(text) && /\p{L}{2}[,;:.]? \p{L}|^\s*[“±(]?\p{Lu}\p{Ll}|^[,;:.]? \p{L}{2}|\p{L}{2}[,;:]? $/u.test(text);

const spokenAttributes = [
  ...['label', 'shortLabel', 'title', 'placeholder', 'hint', 'aria-label', 'aria-valuetext', 'data-label', 'alt'],
  ...['unit', 'xLabel', 'yLabel', 'words', 'name', 'missing', 'text', 'toText', 'what'],
];
/** Attributes and calls whose texts are for the program. */
const silentAttributes = ['class', 'key', 'id', 'd', 'viewBox', 'accept', 'autocomplete', 'sandbox'];
const silentCalls = ['closest', 'matchMedia', 'querySelector', 'endsWith', 'parseMm', 'Error', 'RangeError'];

const isLiteral = (node: ts.Node): node is ts.LiteralLikeNode =>
  ts.isStringLiteralLike(node) || ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node);

/** Attributes whose lists are shown: heads and rows of a table, lines of facts. */
const shownLists = ['head', 'rows', 'of'];

/** Whether a literal is an element of such a list, however the list is made. */
function isInShownList(node: ts.Node): boolean {
  let at = node.parent;
  let isElement = false;
  while (!ts.isJsxAttribute(at)) {
    isElement ||= ts.isArrayLiteralExpression(at);
    const isOnTheWay =
      [ts.isArrayLiteralExpression, ts.isSpreadElement, ts.isArrowFunction, ts.isJsxExpression].some((is) => is(at)) ||
      [ts.isReturnStatement, ts.isBlock, ts.isConditionalExpression, ts.isParenthesizedExpression].some((is) =>
        is(at),
      ) ||
      (ts.isCallExpression(at) && /\.(map|flatMap)$/.test(at.expression.getText()));
    if (!isOnTheWay) return false;
    at = at.parent;
  }
  return isElement && !ts.isCallExpression(node.parent) && shownLists.includes(at.name.getText());
}

/** Whether a literal is what an expression in the markup comes to, as a child or as an attribute that is read out. */
function isShown(node: ts.Node): boolean {
  const { parent } = node;
  if (ts.isJsxAttribute(parent)) return spokenAttributes.includes(parent.name.getText());
  if (ts.isJsxExpression(parent))
    return ts.isJsxAttribute(parent.parent) ? spokenAttributes.includes(parent.parent.name.getText()) : true;
  if (ts.isConditionalExpression(parent)) return parent.condition !== node && isShown(parent);
  if (ts.isBinaryExpression(parent))
    return parent.right === node && /^(&&|\|\||\?\?|\+)$/.test(parent.operatorToken.getText()) && isShown(parent);
  return (
    (ts.isParenthesizedExpression(parent) || ts.isTemplateSpan(parent) || ts.isTemplateExpression(parent)) &&
    isShown(parent)
  );
}

/** Whether a literal is for the program: an import, a type, a key, an attribute or argument that nobody sees. */
function isSilent(node: ts.Node): boolean {
  const { parent } = node;
  if (ts.isImportDeclaration(parent) || ts.isLiteralTypeNode(parent)) return true;
  if (ts.isPropertyAssignment(parent) && parent.name === node) return true;
  for (let at = parent; at !== undefined; at = at.parent) {
    if (ts.isJsxAttribute(at)) return silentAttributes.includes(at.name.getText());
    if (ts.isCallExpression(at) || ts.isNewExpression(at))
      if (silentCalls.includes(at.expression.getText().split('.').at(-1)!)) return true;
  }
  return false;
}

/** Words that are written into a source, with their lines. */
function textIn(source: string, name: string): readonly string[] {
  const file = ts.createSourceFile(
    name,
    source,
    ts.ScriptTarget.Latest,
    true,
    name.endsWith('.ts') ? ts.ScriptKind.TS : ts.ScriptKind.TSX,
  );
  const found: string[] = [];
  const note = (node: ts.JsxText | ts.LiteralLikeNode) =>
    found.push(`${name}:${file.getLineAndCharacterOfPosition(node.getStart()).line + 1} ${node.text.trim()}`);
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node) && isText(node.text)) note(node);
    if (
      isLiteral(node) &&
      (isShown(node) || isInShownList(node) ? isText(node.text) : isPhrase(node.text) && !isSilent(node))
    )
      note(node);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

describe('the text of the page', () => {
  test('stands in no view, but in the language files', () => {
    expect(sources.length).toBeGreaterThan(100);
    expect(sources.flatMap((name) => textIn(readFileSync(path.join(folder, name), 'utf8'), name))).toEqual([]);
  });

  test.each([
    ['<p>Hello {b} Hz</p>', ['Hello']],
    ['<p title="say it" class="lead big" />', ['say it']],
    ["<p>{on ? 'none' : b}</p>", ['none']],
    ["<Table head={[t.a, 'Mode']} rows={xs.map((x) => [x, 'none'])} />", ['Mode', 'none']],
    ["<Facts of={[['Mass', g(x, 'kg')]]} />", ['Mass']],
    [`<p>{\`about \${b} mm\`}</p>`, ['about']],
    ["[['air', 'Air'], ['twist', 'twist']]", ['Air']],
    ["() => 'too late'", ['too late']],
    [`\`\${b}, step \${c}\``, [', step']],
    ["<p class={on ? 'tag done' : 'tag'}>{kind === 'none' ? '–' : say(b, 'GPa')}</p>", []],
    ["new RangeError('say: a word')", []],
  ])('would be found in %s', (source, texts) => {
    expect(textIn(`const a = ${source};`, 'a.tsx')).toEqual(texts.map((text) => `a.tsx:1 ${text}`));
  });
});

describe('the language', () => {
  test('that is not there gives English, and every one offered can be spoken', async () => {
    expect(await speak('xx')).toBe('en');
    for (const [tag] of languageNames) expect(await speak(tag)).toBe(tag);
    expect(words.settings.title).toBe('Settings');
  });

  test('codes are read anew each time, and what the maker typed is left as it is', () => {
    expect(Object.keys(stageWords)).toEqual(Object.keys(words.codes.stages));
    expect(stageWords.braced).toBe(words.codes.stages.braced);
    expect(spotWord('bridge-centre')).toBe(words.codes.spots['bridge-centre']);
    expect(spotWord('over my thumb')).toBe('over my thumb');
  });
});

test.each([
  [['pieces', '#p1', 'reading', 'eLongGpa', 'value'], 'piece of wood, reading, E along'],
  [['pieces', '#p1', 'lengthMm', 'sigma'], 'piece of wood, length'],
  [['steps', '#s1', 'climate', 'humidityPercent'], 'step, air, humidity'],
  [['steps', '#s1', 'rounds', '#r1', 'fit'], 'step, round, modes read'],
  [['targets', '#t1', 'toleranceHz'], 'target, tolerance'],
  [['plan', 'braces', '#b1', 'widthMm'], 'plan, braces, width'],
  [['notes'], 'notes'],
])('a conflict at %j is named as the page would: %s', (given, said) => {
  expect(words.exchange.field(given)).toBe(said);
});
