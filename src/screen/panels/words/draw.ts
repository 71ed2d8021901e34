// Draws paragraphs, wrapped to the width.
import { type Block, emptyRow, type Row, row, run } from '../../picture.ts';
import { wrapped } from '../../text.ts';
import type { Paragraph, Words } from './words.ts';

const INDENT = 2;
const KEY_WIDTH = 10;
/** Longer lines are hard to read from a bench. */
const WIDEST = 92;

export function drawWords(words: Words, columns: number, rows: number): Block {
  const width = Math.min(WIDEST, columns - 2 * INDENT);
  const whole = words.paragraphs.flatMap((paragraph, at) => [
    ...(startsGroup(words.paragraphs, at) ? [emptyRow] : []),
    ...drawn(paragraph, width),
  ]);
  const tight = whole.length <= rows ? whole : whole.filter((line) => line.length > 0);
  return tight.slice(0, rows).map((line) => [run(' '.repeat(INDENT)), ...line]);
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
