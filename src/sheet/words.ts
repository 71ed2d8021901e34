// Words on paper: a job in a few words, how wide a text is, and how a text that is too long is cut.
import type { Job } from '../core/bench/job.ts';
import type { Cutter, Setup } from '../core/bench/setup.ts';
import { fineFigure, pitchFigure, pitchLength, tipFigure } from '../core/figures.ts';
import { abbreviated, forPaper } from '../core/safe-text.ts';
import { lead } from '../core/thread/form.ts';
import { inDegrees, type LengthUnit } from '../core/units.ts';
import { findWood } from '../core/wood/woods.ts';

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
export const linesTaken = (words: string, column: number, size: number): number =>
  Math.max(1, Math.ceil(widthOf(words, size) / (0.9 * column)));

/** The longest name that is printed whole; the form takes no longer one. */
const LONGEST = 80;
/** Room for a figure in a column of the page, millimetres. */
const COLUMN = 46;

/** A text of at most `most` characters, with an ellipsis for the rest. */
export const upTo = (text: string, most: number = LONGEST): string =>
  abbreviated(forPaper(text).trim(), most);

/** A name out of the kit, on one line of a column. */
export const equipment = (name: string): string => cutTo(forPaper(name).trim(), COLUMN, USUAL);

function woodName(typed: string): string {
  const found = findWood(typed);
  if (found.kind !== 'found') return upTo(typed);
  const { trade, botanical } = found.wood;
  return botanical === null ? trade : `${trade} (${botanical})`;
}

export function woodWords({ wood, lidWood }: Setup): string {
  if (wood === undefined && lidWood === undefined) return 'wood not given';
  const body = wood === undefined ? 'not given' : woodName(wood);
  return lidWood === undefined || lidWood === wood ? body : `body ${body}; lid ${woodName(lidWood)}`;
}

export const cutterWords = (cutter: Cutter, unit: LengthUnit): string =>
  `${equipment(cutter.name)}: ${inDegrees(cutter.angle).toFixed(0)}°, ${tipFigure(cutter.tip, unit)}`;

export function feedWords({ feed, byHand }: Setup, unit: LengthUnit): string {
  if (byHand) return 'chased by hand';
  return feed ? `${equipment(feed.name)}: ${fineFigure(feed.perDetent, unit)} a detent` : 'not counted';
}

export function threadWords({ pitch, starts }: Setup, unit: LengthUnit): string {
  const metric = pitch.given.kind === 'tpi' ? ` (${pitchLength(pitch.length, unit)} ${unit})` : '';
  const many =
    starts > 1 ? `, ${starts} starts, lead ${pitchLength(lead(pitch.length, starts), unit)} ${unit}` : '';
  return `${pitchFigure(pitch)}${metric}${many}`;
}

const CLOSED = { runs: 'closed: it runs', 'given-up': 'given up', untried: 'closed untried' } as const;

export const stateWords = ({ closed, stage, removed }: Job): string =>
  removed ? 'removed' : closed ? CLOSED[closed.how] : `open at ${stage}`;
