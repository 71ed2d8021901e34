// Text as the screen shows it: rows of runs, each with a style by its meaning. No colours, no bytes; theme.ts has the looks.
import { cut, textWidth } from './text.ts';
import type { STYLES } from './theme.ts';

export type Style = (typeof STYLES)[number];

export interface StyledRun {
  readonly text: string;
  readonly style: Style;
}
export type StyledRow = readonly StyledRun[];
/** Rows of any widths. */
export type Block = readonly StyledRow[];

export const run = (text: string, style: Style = 'plain'): StyledRun => ({ text, style });
export const row = (...runs: readonly (StyledRun | string)[]): StyledRow =>
  runs.map((part) => (typeof part === 'string' ? run(part) : part));
export const blank = (width: number): StyledRun => run(' '.repeat(Math.max(0, width)));
export const emptyRow: StyledRow = [];

/** Columns that a row takes. */
export const rowWidth = (of: StyledRow): number => of.reduce((sum, { text }) => sum + textWidth(text), 0);
export const blockWidth = (block: Block): number => Math.max(0, ...block.map(rowWidth));
export const plainText = (of: StyledRow): string => of.map(({ text }) => text).join('');

/** A row's first `width` columns. */
export function clipped(of: StyledRow, width: number): StyledRow {
  const kept: StyledRun[] = [];
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
export function fitted(of: StyledRow, width: number): StyledRow {
  const has = rowWidth(of);
  if (has === width) return of;
  return has > width ? clipped(of, width) : [...of, blank(width - has)];
}

/** Columns to the left of something centred; half a column is rounded down. */
export const margin = (room: number, width: number): number => Math.max(0, Math.floor((room - width) / 2));

export const centred = (of: StyledRow, width: number): StyledRow =>
  clipped([blank(margin(width, rowWidth(of))), ...of], width);
