// Where the values turned: each rise followed by a fall, unless it is only flicker, a tremble or noise in the readings.
import type { Reading } from './reading.ts';

/** A place where a rise ended and a fall began. Heights are positive toward the peak. */
export interface Turn {
  /** Its place among the accepted readings. */
  readonly place: number;
  readonly height: number;
  /** How far it rises above the lowest before it, and above the lowest after it so far. */
  readonly rise: number;
  readonly fall: number;
}

export interface Turns {
  readonly phase: 'level' | 'rising' | 'falling';
  /** The highest of the present rise, and its place among the accepted readings. */
  readonly high: number;
  readonly highPlace: number;
  readonly low: number;
  /** The height the last rise began from. */
  readonly base: number;
  /** Whether the turn at `high` was already reported. */
  readonly reported: boolean;
  readonly swings: Swings;
  /** The turn that the last height completed. */
  readonly turn: Turn | null;
}

interface Swings {
  /** Whether the first swing of the run is still under way: it may be the jaws' coming, and is not remembered. */
  readonly first: boolean;
  /** The last swings' sizes, newest last. */
  readonly last: readonly number[];
  /** The usual swing: the third largest of those, so that one spike cannot set it. */
  readonly usual: number;
}

/** Our own choice: a swing is one that exceeds 2.5 steps, and a tenth of the usual swing, up to 0.03 % of the size. */
const SWING = { steps: 2.5, share: 0.1, ofSize: 0.0003, remembered: 9 } as const;

/** Every reading makes one of these: fields written out, since a spread costs ten times as much. */
const turnsOf = (
  phase: Turns['phase'],
  highPlace: number,
  high: number,
  low: number,
  base: number,
  reported: boolean,
  swings: Swings,
  turn: Turn | null,
): Turns => ({ phase, highPlace, high, low, base, reported, swings, turn });

export const startTurns = (place: number, height: number): Turns =>
  turnsOf('level', place, height, height, height, true, { first: true, last: [], usual: 0 }, null);

const leastSwing = (usual: number, size: number, step: number): number =>
  Math.max(SWING.steps * step, Math.min(SWING.share * usual, SWING.ofSize * Math.abs(size)));

/** The turns with one more height, shown in steps of `step`. */
export function turnOn(turns: Turns, place: number, height: number, step: number): Turns {
  const { phase, highPlace, high, base, reported, swings } = turns;
  const least = leastSwing(swings.usual, height, step);
  if (phase === 'falling') return fallOn(turns, place, height, least);
  const low = phase === 'level' ? Math.min(turns.low, height) : turns.low;
  const rising = phase === 'rising' || height - low >= least;
  if (height > high)
    return turnsOf(rising ? 'rising' : 'level', place, height, low, low, reported, swings, null);
  if (high - height >= least) {
    const swung = swings.first ? swings : remember(swings, high - turns.low);
    return turnsOf('falling', highPlace, high, height, turns.low, phase === 'level', swung, null);
  }
  if (low === turns.low && !turns.turn) return turns;
  return turnsOf(phase, highPlace, high, low, base, reported, swings, null);
}

function fallOn(turns: Turns, place: number, height: number, least: number): Turns {
  const { highPlace, high, base, reported, swings } = turns;
  const low = Math.min(turns.low, height);
  const risen = height - low >= least;
  const far = high - low >= 0.6 * (high - base);
  const complete = !reported && (risen || (far && place - highPlace >= 4));
  if (!complete && !risen && low === turns.low && !turns.turn) return turns;
  const turn = complete ? turnAt(highPlace, high, base, low) : null;
  if (!risen) return turnsOf('falling', highPlace, high, low, base, reported || complete, swings, turn);
  return turnsOf('rising', place, height, low, low, false, remember(swings, high - low), turn);
}

const turnAt = (place: number, height: number, base: number, low: number): Turn => ({
  place,
  height,
  rise: height - base,
  fall: height - low,
});

/** The turn under way, for when no more readings follow: null unless a fall has begun and it was not reported before. */
export const lastTurn = ({ phase, reported, highPlace, high, base, low }: Turns): Turn | null =>
  phase === 'falling' && !reported ? turnAt(highPlace, high, base, low) : null;

/** The swings with one more, and the usual one of them. */
function remember({ last }: Swings, size: number): Swings {
  const sizes = [...last.slice(1 - SWING.remembered), size];
  return { first: false, last: sizes, usual: thirdLargest(sizes) };
}

/** 0 where there are fewer than three. */
function thirdLargest(sizes: readonly number[]): number {
  let [first, second, third] = [0, 0, 0];
  for (const size of sizes) {
    if (size > first) [first, second, third] = [size, first, second];
    else if (size > second) [second, third] = [size, second];
    else if (size > third) third = size;
  }
  return third;
}

/** When a turn isn't a rock; our own figures. */
const ROCK = {
  /** Swings larger than this share of the size are the jaws coming or going. */
  swing: 0.045,
  /** A turn smaller than this share of the largest swing is a tremble. */
  wobble: 0.03,
  /** Where no swing but one reaches this many steps, turns must stand this many standard deviations above the unrest. */
  shallow: 8,
  aboveUnrest: 5,
  /**
   * Third differences are sqrt(10) times first ones where readings are noise, and (2 sin(pi/n))^2 times where they are a swing of n
   * readings, 1.4 for 5 (both derived; after von Neumann's ratio, 1941, from memory). Below this they are a hand's, not unrest; our own
   * choice: without it 5.3 % of 2,000 pulled captures are refused, with it 4.3 %; and 2.1 % and 1.4 % of still jaws under noise of 0.02 mm are kept.
   */
  ofFirst: 2.3,
} as const;

/** Readings that the unrest is worked out from. */
export const UNREST_FROM = 32;

/** Whether this turn of a run is a rock; `recent` gives the run's last readings, up to `UNREST_FROM` of them. */
export const isRock = (
  turn: Turn,
  { swings }: Turns,
  step: number,
  recent: () => readonly Reading[],
): boolean => !isWobble(turn, swings.last) && (isTall(turn, swings.last, step) || !isUnrest(turn, recent()));

/** Whether a turn is so small beside the last swings (those that jaws on the work can make) that it is a tremble. */
function isWobble(turn: Turn, swings: readonly number[]): boolean {
  const most = ROCK.swing * Math.abs(turn.height);
  let largest = 0;
  for (const swing of swings) if (swing <= most) largest = Math.max(largest, swing);
  return Math.min(turn.rise, turn.fall) < ROCK.wobble * largest;
}

/** Whether a turn is deep enough, by its own height or by two of the last swings. */
function isTall(turn: Turn, swings: readonly number[], step: number): boolean {
  const shallow = ROCK.shallow * step;
  const rocked = (swing: number) => swing >= shallow && swing <= ROCK.swing * Math.abs(turn.height);
  return Math.min(turn.rise, turn.fall) >= shallow || swings.filter(rocked).length > 1;
}

/**
 * Whether a shallow turn is only the readings' noise. That shows in their third differences, which a smooth
 * rock leaves small: of noise alone they have sqrt(20) times its standard deviation (1 + 9 + 9 + 1), and a quarter of them
 * are smaller than 0.3186 of that (the normal quantile of 5/8; both derived). The smallest quarter, since a swing only adds.
 */
function isUnrest(turn: Turn, recent: readonly Reading[]): boolean {
  const firsts = recent.slice(1).map(({ value }, i) => value - (recent[i]?.value ?? value));
  const seconds = firsts.slice(1).map((first, i) => first - (firsts[i] ?? first));
  const thirds = seconds.slice(1).map((second, i) => second - (seconds[i] ?? second));
  if (sizeAt(thirds, 0.5) < ROCK.ofFirst * sizeAt(firsts, 0.5)) return false;
  return Math.min(turn.rise, turn.fall) < (ROCK.aboveUnrest * sizeAt(thirds, 0.25)) / 0.3186 / Math.sqrt(20);
}

/** The size that this share of the values does not reach. */
const sizeAt = (values: readonly number[], share: number): number =>
  values.map(Math.abs).sort((a, b) => a - b)[Math.floor(values.length * share)] ?? 0;
