// Text as the screen shows it: made safe where it came from people or devices, the columns that it takes, and rows of runs, each with
// a style by its meaning. No colours, no bytes; theme.ts has the looks.
import { eastAsianWidth } from 'get-east-asian-width';
import { characters, forScreen } from '../core/safe-text.ts';
import type { Glyphs } from './glyphs.ts';
import type { STYLES } from './theme.ts';

/** The longest text from outside that is ever shown in one place. */
export const LONGEST = 200;

/** Characters that are not to be drawn, such as fillers, except those that choose how the one before them looks. */
const HIDDEN = /(?![\uFE00-\uFE0F])\p{Default_Ignorable_Code_Point}/gu;

/**
 * Text from a person or a device as it may stand in a picture: safe for a screen, and each character drawn in a cell; what was
 * replaced shows as a question mark. At most `most` characters.
 */
export const safe = (text: string, most = LONGEST): string =>
  forScreen(text.replace(HIDDEN, '?'), most).replace(/^\p{M}/u, '?'); // a mark has nothing before it to stand on

const NARROW =
  /^[\x20-\x7e\u00a0-\u00ac\u00ae-\u02ff\u2010-\u2027\u202f-\u203a\u2190-\u21ff\u2500-\u25fc\u25ff\u2800-\u28ff]*$/;
/** Latin text and our own drawing, where one code unit is one column; looked at for every run of every frame. */
export const isNarrow = (text: string): boolean => NARROW.test(text);

// Terminals work from tables of different years and disagree about some characters. Those get the most columns that any table
// gives them, and what follows gets a new position (changed-cells.ts): a terminal that draws less leaves a blank.

/** Marks that take no column in any table: of the scripts up to Myanmar, without those that came after Unicode 5.0. */
const DRAWN_OVER =
  /^(?![\u0487\u0616-\u061A\u065F\u07FD-\u0900\u093A\u0955-\u0957\u09FE\u0A51\u0A75\u0AFA-\u0AFF\u0B44-\u0B63\u0C00-\u0C04\u0C3C\u0C62-\u0C81\u0D00\u0D01\u0D3B-\u0D44\u0D62-\u0D81\u0EBA\u0ECE\u0F8D-\u0F8F])[\u0300-\u0FFF]$/u;
/** Letters and symbols that take two columns in some tables: emoji, Hangul letters that join, symbols for the calendar. */
const WIDE_FOR_SOME =
  /^(?:\p{Emoji_Presentation}|[\u{10000}-\u{10FFFF}]|[\u06DE\u0D4E\u1160-\u11FF\uD7B0-\uD7FF\u2630-\u2637\u268A-\u268F\u3248-\u324F])$/u;

/** The most columns that a terminal gives a character. */
function mostColumns(character: string): number {
  if (/^\p{M}$/u.test(character)) return DRAWN_OVER.test(character) && /^\p{Mn}$/u.test(character) ? 0 : 1;
  return WIDE_FOR_SOME.test(character) ? 2 : eastAsianWidth(character.codePointAt(0) ?? 0x20);
}

/** A cluster is as wide as its characters side by side; one that begins with a mark has no cell, or one more for it to stand on. */
function clusterWidth(segment: string): number {
  if (/^[\p{Mn}\p{Me}\p{C}\p{Zl}\p{Zp}]/u.test(segment)) return 0;
  let width = /^\p{M}/u.test(segment) ? 1 : 0;
  for (const character of segment) width += mostColumns(character);
  return width;
}

/** Columns that are kept for a text. */
export function textWidth(text: string): number {
  if (isNarrow(text)) return text.length;
  let width = 0;
  for (const character of characters(text)) width += clusterWidth(character);
  return width;
}

/** The clusters of a text, each with its width. Zero-width clusters are left out: they have no cell to stand in. */
export function* clusters(text: string): Generator<{ readonly text: string; readonly width: number }> {
  for (const character of characters(text)) {
    const width = clusterWidth(character);
    if (width > 0) yield { text: character, width };
  }
}

/** The beginning of a text in at most `width` columns; a wide character cut by the edge becomes a blank. */
export function cut(text: string, width: number): string {
  if (width <= 0) return '';
  if (isNarrow(text)) return text.slice(0, width);
  let kept = '';
  let used = 0;
  for (const cluster of clusters(text)) {
    if (used + cluster.width > width) return kept + ' '.repeat(width - used);
    kept += cluster.text;
    used += cluster.width;
  }
  return kept;
}

/** A text in at most `width` columns, with a mark at its end when something was left off. */
export const shorten = (text: string, width: number): string =>
  textWidth(text) <= width ? text : `${cut(text, width - 1)}…`;

/** A text broken at blanks into lines of at most `width` columns; a number stays with the word or the unit behind it. */
export function wrapped(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/(?<![\d±]) /)) {
    if (line !== '' && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return line === '' ? lines : [...lines, line];
}

/** The first lines, with a mark at the end of the last where some were left off. */
export function atMost(lines: readonly string[], most: number, width: number): readonly string[] {
  const last = lines[most - 1];
  if (lines.length <= most || last === undefined) return lines;
  return [...lines.slice(0, most - 1), shorten(`${last} …`, width)];
}

export type Style = (typeof STYLES)[number];

export interface StyledRun {
  readonly text: string;
  readonly style: Style;
}
export type StyledRow = readonly StyledRun[];
/** Rows of any widths. */
export type Block = readonly StyledRow[];

/** Room for a drawing: it is made for `rows`, of which the upper `shown` are shown, so that it keeps its scale when a message needs one. */
export interface PanelRoom {
  readonly columns: number;
  readonly rows: number;
  readonly shown: number;
  readonly glyphs: Glyphs;
}

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
