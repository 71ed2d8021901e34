// Text from people, files and devices, made safe to show: one class of unsafe characters, and one policy for each place it goes.

/** The longest text from outside that is shown in one place: a whole line of the bench protocol. */
const SHOWN_AT_MOST = 96;

/**
 * What commands a terminal, turns or hides writing, or has no agreed shape: the general category C (control, format,
 * surrogate, private, unassigned) and the separators of lines and paragraphs (Unicode Standard, 4.5; from memory).
 */
const UNSAFE = /[\p{C}\p{Zl}\p{Zp}]/gu;
/** Nothing in printable ASCII is unsafe: most text ends here. */
const isAscii = (text: string): boolean => /^[\x20-\x7e]*$/.test(text);

let segmenter: Intl.Segmenter | undefined;

/** A text character by character, as a reader sees them (Unicode Standard Annex 29). */
export function* characters(text: string): Generator<string> {
  segmenter ??= new Intl.Segmenter('en', { granularity: 'grapheme' });
  for (const { segment } of segmenter.segment(text)) yield segment;
}

/** The first `most` characters of a text, as a reader sees them: none is ever cut inside. */
export function firstCharacters(text: string, most: number): string {
  if (text.length <= most) return text;
  let kept = '';
  let count = 0;
  for (const character of characters(text)) {
    if (count === most) break;
    kept += character;
    count += 1;
  }
  return kept;
}

/** A text with its last character erased. */
export const erasedText = (text: string): string => [...text].slice(0, -1).join('');

/** A text as the start of a sentence. */
export const capitalised = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A text of at most `most` characters, the last of them an ellipsis where something was left off. */
export function abbreviated(text: string, most: number): string {
  const start = firstCharacters(text, most);
  return start === text ? text : `${firstCharacters(start, most - 1)}…`;
}

/** A text of which the end does not matter: enough code units for `most` characters, however they are composed. */
const beginning = (text: string, most: number): string => text.slice(0, 16 * most);

/**
 * For a screen: composed, on one line, with a question mark for each unsafe character, and an ellipsis in place of the
 * last of `most` characters where there are more.
 */
export function forScreen(text: string, most: number = SHOWN_AT_MOST): string {
  const start = beginning(text, most);
  const whole = isAscii(start)
    ? start
    : start
        .normalize('NFC')
        .replace(/[\t\n\r]+/g, ' ')
        .replace(UNSAFE, '?');
  return abbreviated(start.length < text.length ? `${whole}…` : whole, most);
}

/** A path for a screen: never cut, so that it can be copied. */
export const pathForScreen = (path: string): string => forScreen(path, Number.POSITIVE_INFINITY);

const escapedUnits = (character: string): string =>
  [...Array(character.length).keys()]
    .map((at) => `\\u${character.charCodeAt(at).toString(16).padStart(4, '0')}`)
    .join('');

/** For a file or a pipe: each unsafe character as `\uHHHH`, which is the same text in JSON, and can be read anywhere else. */
export const forFile = (text: string): string => (isAscii(text) ? text : text.replace(UNSAFE, escapedUnits));

const ENTITIES: { readonly [character: string]: string } = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** On paper: a blank for each run of unsafe characters, and at most two marks on one letter, so that they stay within their line. */
export const forPaper = (text: string): string =>
  isAscii(text) ? text : text.replace(/[\p{C}\p{Zl}\p{Zp}]+/gu, ' ').replace(/(\p{M}{2})\p{M}+/gu, '$1');

/** For HTML and SVG, in content and in quoted attributes: as on paper, and nothing in it is markup. */
export const forMarkup = (text: string): string =>
  forPaper(text).replace(/[&<>"']/g, (character) => ENTITIES[character] ?? ' ');

const LONGEST_PLAIN_NAME = 40;

/**
 * The plain letters and digits of a name, for the name of a file: `60° vee, large` becomes `60-vee-large`. Nothing else that a
 * person typed gets into a path. Empty if the name has neither.
 */
export const plainName = (name: string): string =>
  name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST_PLAIN_NAME)
    .replace(/^-|-$/g, '');
