// Draws the line's health: shape, words, and the counts behind them.
import { type Row, row, run } from '../../picture.ts';
import type { Health } from './health.ts';

export const drawHealth = ({ mark, text, style, counts }: Health): Row =>
  counts === ''
    ? row(run(`${mark} ${text}`, style))
    : row(run(`${counts}  `, 'near'), run(`${mark} ${text}`, style));
