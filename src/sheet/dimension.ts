// Dimensions: a line between two ends with strokes across them, witness lines that stop short of the work, words that stay clear.
import { element } from './markup.ts';
import { line, middled, TYPE, text } from './svg.ts';
import { widthOf } from './type.ts';

/** Between the work and its witness line, and past the dimension line. */
const CLEAR = 0.8;
const PAST = 1;
const TICK = 0.8;

const stroke = (x: number, y: number): string =>
  line(x - TICK, y + TICK, x + TICK, y - TICK, { class: 'tick' });

/** From the work at `from` toward the dimension line at `to`, and past it. */
function witness(from: number, to: number): readonly [number, number] {
  const way = Math.sign(to - from);
  return [from + way * CLEAR, to + way * PAST];
}

/** Across: between two places on a level. Words above the line, or beside its right end where they are wider. */
export function across(x1: number, x2: number, from: number, y: number, words: string): string {
  const fits = widthOf(words, TYPE) < x2 - x1 - 2;
  const [start, end] = witness(from, y);
  const ends = [x1, x2].map((x) => line(x, start, x, end) + stroke(x, y)).join('');
  const label = fits ? middled((x1 + x2) / 2, y - CLEAR, words) : text(x2 + 2, y + 1, words);
  return element('g', { class: 'dim' }, line(x1, y, x2, y) + ends + label);
}

/** A level, and where on it the work ends. */
export interface Level {
  readonly y: number;
  readonly from: number;
}

/** Up and down: between two levels, with the words to the right of its middle. */
export function upright(a: Level, b: Level, x: number, words: string): string {
  const ends = [a, b].map(({ y, from }) => {
    const [start, end] = witness(from, x);
    return line(start, y, end, y) + stroke(x, y);
  });
  const label = text(x + 1.8, (a.y + b.y) / 2 + 1, words);
  return element('g', { class: 'dim' }, line(x, a.y, x, b.y) + ends.join('') + label);
}
