// The bar toward a target: a fill whose shape changes with the zone, the target's mark, and the reach that still runs beyond it.
import { type Block, type PanelRoom, row, run, type Style, type StyledRun } from '../text.ts';

type BarZone = 'far' | 'near' | 'at' | 'under' | 'past';

export interface Bar {
  readonly zone: BarZone | null;
  /** What it shows is out of date. */
  readonly stale: boolean;
  /** 0 to 1 along the bar: filled up to here; null with nothing measured. */
  readonly filled: number | null;
  /** 0 to 1: the target, and the loosest that runs. */
  readonly target: number;
  readonly loosest: number;
  /** What is written under the target's mark. */
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

export function barRows(bar: Bar, { columns, rows }: PanelRoom): Block {
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

/** Shares of the bar's length: turning down, coming near, and beyond the target. */
const FAR = 0.35;
const TARGET_AT = 0.8;
/** Millimetres on the diameter that the first part of the bar reaches over. */
const REACH = 5;

/**
 * The place on the bar of a diameter so much over its target (millimetres; below zero is under): the last half
 * millimetre takes more of it than all before, since that is where the eye is needed.
 */
export function placeOf(over: number, near: number, beyond: number): number {
  if (over >= near) return Math.max(0, FAR * (1 - (over - near) / (REACH - near)));
  if (over >= 0) return FAR + (TARGET_AT - FAR) * (1 - over / near);
  return Math.min(1, TARGET_AT + (1 - TARGET_AT) * (-over / beyond));
}

const beyond = (bar: Bar, column: number, at: (share: number) => number): string => {
  if (column < at(bar.target)) return TRACK;
  if (column === at(bar.loosest)) return LOOSEST;
  return column < at(bar.loosest) ? RUNS : ' ';
};
