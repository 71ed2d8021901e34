// How wide type is: an estimate on the safe side, so that nothing on paper runs into anything else, and cuts that say they are cuts.

/** The page's text: its width, and its two sizes of 8 and 7 points, in millimetres. */
export const PAGE_WIDTH = 186;
export const USUAL = 2.83;
export const SMALL = 2.47;
/** A name in 15 points, or in 10.5 where it is long. */
export const NAME = { large: 5.3, small: 3.7 } as const;

/** Widths in em, up to those of DejaVu Sans (read from its tables), a wide face; what is not listed counts as a whole em. */
const WIDTHS: readonly (readonly [em: number, characters: string])[] = [
  [0.32, "'ijlIJ ,.·’"],
  [0.42, '/:;\\|f-()[]t!r'],
  [0.55, '"*_`°sz?c'],
  [0.65, 'LFkvxyPTYaoeéESbdghnpquü$0123456789{}'],
  [0.75, 'KAVBRXZCUHN'],
  [0.85, 'DG&OQw#+<=>^~±×≤≥M'],
];
const WHOLE = 1;
const EM = new Map(WIDTHS.flatMap(([em, characters]) => [...characters].map((one) => [one, em] as const)));

/** The width that words take at a size, in the size's unit; a little more than they will. */
export const widthOf = (words: string, size: number): number =>
  size * [...words].reduce((sum, character) => sum + (EM.get(character) ?? WHOLE), 0);

/** Words that fit a width: as they are, or cut with an ellipsis. */
export function cutTo(words: string, room: number, size: number): string {
  let left = room - size * WHOLE;
  let kept = '';
  for (const character of words) {
    left -= widthOf(character, size);
    if (left < 0) return widthOf(words, size) <= room ? words : `${kept.trimEnd()}…`;
    kept += character;
  }
  return words;
}

/** Lines that words take in a column, each of them filled to nine tenths at the worst. */
export const linesOf = (words: string, column: number, size: number): number =>
  Math.max(1, Math.ceil(widthOf(words, size) / (0.9 * column)));
