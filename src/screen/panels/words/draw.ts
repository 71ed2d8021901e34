// Draws paragraphs, wrapped to the width.
import { type Block, emptyRow, type Row, row, rowWidth, run } from '../../picture.ts';
import { wrapped } from '../../text.ts';
import type { Paragraph, Words } from './words.ts';

const INDENT = 2;
const KEY_WIDTH = 10;
/** Longer lines are hard to read from a bench. */
const WIDEST = 92;

/** Everything where it fits; else without blank rows; else with the keys in a line. */
export function drawWords(words: Words, columns: number, rows: number): Block {
  const width = Math.min(WIDEST, columns - 2 * INDENT);
  const { paragraphs } = words;
  const whole = paragraphs.flatMap((paragraph, at) => [
    ...(startsGroup(paragraphs, at) ? [emptyRow] : []),
    ...drawn(paragraph, width),
  ]);
  const tight = whole.filter((line) => line.length > 0);
  const lines = [whole, tight].find((block) => block.length <= rows) ?? [
    ...paragraphs.filter(({ kind }) => kind !== 'key').flatMap((paragraph) => drawn(paragraph, width)),
    ...keysInLines(paragraphs, width),
  ];
  return lines.slice(0, rows).map((line) => [run(' '.repeat(INDENT)), ...line]);
}

function keysInLines(paragraphs: readonly Paragraph[], width: number): Block {
  const keys = paragraphs.filter(({ kind }) => kind === 'key');
  const lines: Row[] = [];
  let line: Row = [];
  for (const { key = '', short, text } of keys) {
    const part = row(run(key, 'key'), run(` ${short ?? text}   `));
    if (line.length > 0 && rowWidth([...line, ...part]) - 3 > width) {
      lines.push(line);
      line = [];
    }
    line = [...line, ...part];
  }
  return line.length > 0 ? [...lines, line] : lines;
}

const startsGroup = (all: readonly Paragraph[], at: number): boolean =>
  at > 0 && all[at]?.kind !== all[at - 1]?.kind && all[at - 1]?.kind !== 'title';

function drawn(paragraph: Paragraph, width: number): Row[] {
  switch (paragraph.kind) {
    case 'title':
      return [row(run(paragraph.text, 'title'))];
    case 'text':
      return wrapped(paragraph.text, width).map((line) => row(line));
    case 'key':
      return wrapped(paragraph.text, width - KEY_WIDTH).map((line, at) =>
        row(run((at === 0 ? (paragraph.key ?? '') : '').padEnd(KEY_WIDTH), 'key'), line),
      );
    case 'caution':
      return wrapped(paragraph.text, width - 2).map((line, at) =>
        row(run(at === 0 ? '▲ ' : '  ', 'caution'), run(line, 'caution')),
      );
    default:
      return paragraph.kind satisfies never;
  }
}
