// What the screen is to look like: rows of styled runs, and the few ways to put them together. No colours, no bytes.
import { cut, textWidth } from './text.ts';

/** What a run of text means; theme.ts says what each looks like. */
export const STYLES = [
  'plain',
  'strong',
  'quiet',
  'title',
  'value',
  'stale',
  'near',
  'at',
  'past',
  'caution',
  'good',
  'bad',
  'chosen',
  'here',
  'done',
  'ahead',
  'next',
  'key',
  'trace',
  'top',
  'out',
  'rule',
  'flash',
] as const;
export type Style = (typeof STYLES)[number];

export interface Run {
  readonly text: string;
  readonly style: Style;
}
export type Row = readonly Run[];
/** Rows of any widths, before they are put in their place. */
export type Block = readonly Row[];

/** The whole screen: every row exactly `width` columns wide, exactly `height` rows. */
export interface Picture {
  readonly rows: readonly Row[];
  readonly width: number;
  readonly height: number;
  /** Where the text cursor stands, both from 0; without it, it is hidden. */
  readonly cursor?: { readonly row: number; readonly column: number };
}

export const run = (text: string, style: Style = 'plain'): Run => ({ text, style });
export const row = (...runs: readonly (Run | string)[]): Row =>
  runs.map((part) => (typeof part === 'string' ? run(part) : part));
export const blank = (width: number): Run => run(' '.repeat(Math.max(0, width)));
export const emptyRow: Row = [];

/** Columns that a row takes. */
export const rowWidth = (of: Row): number => of.reduce((sum, { text }) => sum + textWidth(text), 0);
export const blockWidth = (block: Block): number => Math.max(0, ...block.map(rowWidth));
export const plainText = (of: Row): string => of.map(({ text }) => text).join('');

/** A row's first `width` columns. */
export function clipped(of: Row, width: number): Row {
  const kept: Run[] = [];
  let left = width;
  for (const { text, style } of of) {
    const taken = textWidth(text);
    if (taken >= left) return left > 0 ? [...kept, run(cut(text, left), style)] : kept;
    kept.push({ text, style });
    left -= taken;
  }
  return kept;
}

/** A row made exactly `width` columns wide. */
export function fitted(of: Row, width: number): Row {
  const has = rowWidth(of);
  if (has === width) return of;
  return has > width ? clipped(of, width) : [...of, blank(width - has)];
}

export const centred = (of: Row, width: number): Row =>
  fitted([blank(Math.floor((width - rowWidth(of)) / 2)), ...of], width);

/** Two rows at the two ends of `width` columns; the right one gives way where both do not fit. */
export function ends(left: Row, right: Row, width: number): Row {
  const room = width - rowWidth(left) - rowWidth(right);
  return room < 1 ? fitted(left, width) : [...left, blank(room), ...right];
}

/** Blocks side by side, each made as wide as its widest row, with `gap` columns between. */
export function beside(blocks: readonly Block[], gap: number): Block {
  const height = Math.max(0, ...blocks.map((block) => block.length));
  const widths = blocks.map(blockWidth);
  return Array.from({ length: height }, (_, at) =>
    blocks.flatMap((block, index) => [
      ...(index > 0 ? [blank(gap)] : []),
      ...fitted(block[at] ?? emptyRow, widths[index] ?? 0),
    ]),
  );
}

/** A block put in the middle of `width` columns, its rows keeping their places to each other. */
export function blockCentred(block: Block, width: number): Block {
  const margin = Math.max(0, Math.floor((width - blockWidth(block)) / 2));
  return block.map((of) => fitted([blank(margin), ...of], width));
}

/** A block made exactly `height` rows tall: what is too much is left off at the end, or blank rows are added there. */
export const tall = (block: Block, height: number): Block =>
  Array.from({ length: Math.max(0, height) }, (_, at) => block[at] ?? emptyRow);

/** A block in the middle of `height` rows. */
export function blockMiddle(block: Block, height: number): Block {
  const above = Math.max(0, Math.floor((height - block.length) / 2));
  return tall([...Array.from({ length: above }, () => emptyRow), ...block], height);
}

export function pictureOf(
  block: Block,
  width: number,
  height: number,
  cursor?: { readonly row: number; readonly column: number },
): Picture {
  const rows = tall(block, height).map((of) => fitted(of, width));
  return cursor && cursor.row < height && cursor.column < width
    ? { rows, width, height, cursor }
    : { rows, width, height };
}
