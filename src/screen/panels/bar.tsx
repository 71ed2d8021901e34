// The bar toward a target: a fill whose shape changes with the zone, the target's mark, and the reach that still runs beyond it.

import type { ReactNode } from 'react';
import { Rows } from '../rows.tsx';
import { type Block, row, run, type Style, type StyledRun } from '../styled-text.ts';
import type { PanelRoom } from './room.ts';

export type BarZone = 'far' | 'near' | 'at' | 'under' | 'past';

export interface Bar {
  readonly zone: BarZone | null;
  /** What it shows is out of date. */
  readonly stale: boolean;
  /** 0 to 1 along the bar: filled up to here; null with nothing measured. */
  readonly filled: number | null;
  /** 0 to 1: the target, and the loosest that runs. */
  readonly target: number;
  readonly loosest: number;
  /** What stands under the target's mark. */
  readonly targetText: string;
}

const FILL: { readonly [zone in BarZone]: readonly [fill: string, style: Style] } = {
  far: ['░', 'plain'],
  near: ['▒', 'near'],
  at: ['█', 'at'],
  under: ['▓', 'past'],
  past: ['×', 'past'],
};
const TRACK = '·';
const RUNS = '─';
const TARGET = '◆';
const LOOSEST = '┤';

export const BarPanel = ({
  bar,
  columns,
  rows,
  shown,
  gap,
}: PanelRoom & { readonly bar: Bar }): ReactNode => (
  <Rows gap={gap} rows={barRows(bar, columns, rows).slice(0, shown)} />
);

function barRows(bar: Bar, columns: number, rows: number): Block {
  const width = Math.max(4, columns - 2);
  const at = (share: number): number => Math.round(share * (width - 1));
  const target = at(bar.target);
  const filled = bar.filled === null ? 0 : at(bar.filled) + 1;
  const [fill, style] = bar.zone ? FILL[bar.zone] : ([TRACK, 'quiet'] as const);
  const track = Array.from({ length: width }, (_, column) => beyond(bar, column, at)).join('');
  const part = (from: number, to: number): readonly StyledRun[] => {
    const edge = Math.max(from, Math.min(to, filled));
    return [run(fill.repeat(edge - from), bar.stale ? 'stale' : style), run(track.slice(edge, to), 'quiet')];
  };
  const line = row(' ', ...part(0, target), run(TARGET, 'at'), ...part(target + 1, width));
  const under = row(
    run(' '.repeat(Math.max(0, 1 + target - Math.floor(bar.targetText.length / 2)))),
    run(bar.targetText, 'quiet'),
  );
  const thick = rows > 4 ? Math.max(2, Math.min(5, Math.floor(rows / 3))) : 1;
  return [...Array.from({ length: thick }, () => line), under].slice(0, Math.max(0, rows));
}

const beyond = (bar: Bar, column: number, at: (share: number) => number): string => {
  if (column < at(bar.target)) return TRACK;
  if (column === at(bar.loosest)) return LOOSEST;
  return column < at(bar.loosest) ? RUNS : ' ';
};
