// The text of the page stands in the language files. Views whose text has been moved there hold none of their own.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { languageNames, speak, words } from '../../src/views/words/language.ts';
import { spotWord, stageWords } from '../../src/views/words.ts';

const folder = path.resolve(import.meta.dirname, '../../src/views');

/** Views whose text has been moved; the others hold theirs, or have a words file of their own. */
const isMoved =
  /^(answer|app|bench|box|cautions|chart|climate|compare|course|emphasised|fields|forecast|heard|keep|lazy|level|library|name|photo|plan|record|report|room|scroll|settings|step|take|targets|trust|wood)/;
const moved = readdirSync(folder).filter((name) => name.endsWith('.tsx') && isMoved.test(name));

const spokenAttributes = ['label', 'title', 'placeholder', 'hint', 'aria-label', 'alt', 'xLabel', 'yLabel', 'words'];
/** Symbols of units, and the name of the program: the same in every language. */
const signs = ['Hz', 'dB', 'GPa', 'mm', 'kg', 'lb', 'RH', 'Platewright'];
/** Two letters in a row are a word; signs and single letters of formulas are not. */
const isText = (text: string): boolean => (text.match(/\p{L}{2,}/gu) ?? []).some((word) => !signs.includes(word));

/** A literal that reads like a sentence, not like the name of a class or a code. */
const isSentence = (text: string): boolean => isText(text) && /^[\p{Lu}“±]\p{L}* \p{L}/u.test(text.trim());

/** Whether a literal is part of what an expression in the markup shows. */
function isShown(node: ts.Node): boolean {
  for (let at = node.parent; at !== undefined; at = at.parent) if (ts.isJsxExpression(at)) return true;
  return false;
}

/** Words that are written into the markup of a source, with their lines. */
function textIn(source: string, name: string): readonly string[] {
  const file = ts.createSourceFile(name, source, ts.ScriptTarget.Latest, true, ts.ScriptKind.TSX);
  const found: string[] = [];
  const note = (node: ts.Node, text: string) => {
    if (isText(text))
      found.push(`${name}:${file.getLineAndCharacterOfPosition(node.getStart()).line + 1} ${text.trim()}`);
  };
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node)) note(node, node.text);
    if (
      ts.isJsxAttribute(node) &&
      spokenAttributes.includes(node.name.getText()) &&
      node.initializer !== undefined &&
      ts.isStringLiteral(node.initializer)
    )
      note(node, node.initializer.text);
    if ((ts.isStringLiteral(node) || ts.isTemplateHead(node)) && isSentence(node.text) && isShown(node))
      note(node, node.text);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

describe('the text of the page', () => {
  test('stands in no view whose text has been moved to the language files', () => {
    expect(moved.length).toBeGreaterThan(30);
    expect(moved.flatMap((name) => textIn(readFileSync(path.join(folder, name), 'utf8'), name))).toEqual([]);
  });

  test('would be found if it stood there', () => {
    expect(textIn('const a = <p title="Say it">Hello {b} Hz</p>;', 'a.tsx')).toEqual([
      'a.tsx:1 Say it',
      'a.tsx:1 Hello',
    ]);
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
