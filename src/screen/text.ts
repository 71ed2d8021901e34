// Text that came from people or devices, made safe to show, and how many columns any text takes.
import stringWidth from 'string-width';

/** The longest text from outside that is ever shown in one place. */
export const LONGEST = 200;

// C0, DEL, C1, line and paragraph separators, bidirectional and other invisible formatting characters.
const INVISIBLE = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}\p{Co}\p{Cn}]/gu;
// Characters whose width terminals disagree about: emoji and other symbols beyond the first plane, marks that take a column, variation selectors.
const DISPUTED =
  /\p{Mc}|\p{Me}|\p{Variation_Selector}|(?!\p{Script=Han})[\u{10000}-\u{10FFFF}]|\p{Emoji_Presentation}/gu;

/**
 * Text from a person or a device as it may stand in a picture: composed, one line, no control or invisible
 * character, nothing whose width is disputed; what was replaced shows as a question mark. At most `most` characters.
 */
export const safe = (text: string, most = LONGEST): string =>
  [...text.slice(0, 4 * most).normalize('NFC')]
    .slice(0, most)
    .join('')
    .replace(/[\t\n\r]+/g, ' ')
    .replace(INVISIBLE, '?')
    .replace(DISPUTED, '?');

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

/** Columns that a text takes in a terminal. */
export const textWidth = (text: string): number => (isNarrow(text) ? text.length : stringWidth(text));

const segmenter = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** The clusters of a text, each with its width. Zero-width clusters are left out: they have no cell to stand in. */
export function* clusters(text: string): Generator<{ readonly text: string; readonly width: number }> {
  for (const { segment } of segmenter.segment(text)) {
    const width = stringWidth(segment);
    if (width > 0) yield { text: segment, width };
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

/** A text broken at blanks into lines of at most `width` columns. */
export function wrapped(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return line === '' ? lines : [...lines, line];
}
