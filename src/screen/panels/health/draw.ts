// Draws the line's health: shape, words, and the counts behind them.
import { type Row, row, rowWidth, run } from '../../picture.ts';
import type { Health } from './health.ts';

/** Where not all of it fits into `room` columns the counts become one sum, or are left off; the word never is. */
export function drawHealth({ mark, text, style, counts, sum }: Health, room: number): Row {
  const word = run(`${mark} ${text}`, style);
  const ways = [counts, sum].filter((said) => said !== '').map((said) => row(run(`${said}  `, 'near'), word));
  return ways.find((way) => rowWidth(way) <= room) ?? row(word);
}
