// Text that came from people or devices, made safe to show, and how many columns any text takes.
import { eastAsianWidth } from 'get-east-asian-width';
import { characters, forScreen } from '../core/safe-text.ts';

/** The longest text from outside that is ever shown in one place. */
export const LONGEST = 200;

// Characters whose width terminals disagree about: emoji and other symbols beyond the first plane, marks that take a column,
// characters that are not to be drawn (Hangul fillers, variation selectors), Hangul letters that join only beside one another,
// the few of the first plane whose width differs between the tables of different years, and marks that only newer tables
// know, so that those of Latin, Greek, Cyrillic, Hebrew, Arabic, Devanagari and Thai are left.
const DISPUTED =
  /(?![\u0300-\u036F\u0591-\u05BD\u064B-\u0652\u0901\u0902\u093C\u0941-\u0948\u094D\u0E31\u0E34-\u0E3A\u0E47-\u0E4E])\p{Mn}|\p{Mc}|\p{Me}|\p{Default_Ignorable_Code_Point}|(?!\p{Script=Han})[\u{10000}-\u{10FFFF}]|\p{Emoji_Presentation}|[\u1100-\u11FF\uA960-\uA97F\uD7B0-\uD7FF]|[\u06DE\u0D4E\u0E33\u0EB3\uFF9E\uFF9F\u2630-\u2637\u268A-\u268F\u3248-\u324F]/gu;

/**
 * Text from a person or a device as it may stand in a picture: safe for a screen, and nothing in it whose width is
 * disputed; what was replaced shows as a question mark. At most `most` characters.
 */
export const safe = (text: string, most = LONGEST): string =>
  forScreen(
    forScreen(text, 4 * most)
      .replace(DISPUTED, '?')
      .replace(/^\p{M}/u, '?'), // a mark with nothing before it stands alone, a column wide
    most,
  );

/** Latin text and our own drawing, where one code unit is one column; looked at for every run of every frame. */
export function isNarrow(text: string): boolean {
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code < 0x20 || (code > 0x7e && !isOneColumn(code))) return false;
  }
  return true;
}

const isOneColumn = (code: number): boolean =>
  (code >= 0xa0 && code <= 0x2ff && code !== 0xad) ||
  (code >= 0x2010 &&
    code <= 0x203a &&
    code !== 0x2028 &&
    code !== 0x2029 &&
    !(code >= 0x202a && code <= 0x202e)) ||
  (code >= 0x2190 && code <= 0x21ff) ||
  (code >= 0x2500 && code <= 0x25ff) ||
  (code >= 0x2800 && code <= 0x28ff);

/** A cluster is as wide as its first character (Unicode Standard Annex 11); one that begins with a mark has no cell. */
const clusterWidth = (segment: string): number =>
  /^[\p{M}\p{C}\p{Zl}\p{Zp}]/u.test(segment) ? 0 : eastAsianWidth(segment.codePointAt(0) ?? 0x20);

/** Columns that a text takes in a terminal. */
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
