// Where the values turned: each rise followed by a fall, told from flicker by how far it goes.

/** A place where a rise ended and a fall began. Heights are positive toward the top. */
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
  readonly high: { readonly place: number; readonly height: number };
  readonly low: number;
  /** The height the last rise began from. */
  readonly base: number;
  /** Whether the turn at `high` was already given out. */
  readonly told: boolean;
  /** Whether the first swing of the course is still under way: it may be the jaws' coming, and is not remembered. */
  readonly first: boolean;
  /** The last swings' sizes, newest last. */
  readonly swings: readonly number[];
}

/** Our own choice: a swing is one that exceeds 2.5 steps, and a tenth of the usual swing, up to 0.03 % of the size. */
const SWING = { steps: 2.5, share: 0.1, ofSize: 0.0003, remembered: 9 } as const;

export const startTurns = (place: number, height: number, swings: readonly number[] = []): Turns => ({
  phase: 'level',
  high: { place, height },
  low: height,
  base: height,
  told: true,
  first: true,
  swings,
});

/** The least swing that counts now: third largest of the last swings is the usual one, so that one spike cannot set it. */
export function leastSwing(turns: Turns, size: number, step: number): number {
  const usual = turns.swings.toSorted((a, b) => b - a)[2] ?? 0;
  return Math.max(SWING.steps * step, Math.min(SWING.share * usual, SWING.ofSize * Math.abs(size)));
}

/** The turns with one more height, and the turn that is complete with it, if one is. */
export function turnOn(turns: Turns, place: number, height: number, least: number): [Turns, Turn | null] {
  if (turns.phase === 'falling') return fallOn(turns, place, height, least);
  const low = turns.phase === 'level' ? Math.min(turns.low, height) : turns.low;
  if (height > turns.high.height) {
    const rising = turns.phase === 'rising' || height - low >= least;
    return [{ ...turns, phase: rising ? 'rising' : 'level', high: { place, height }, low, base: low }, null];
  }
  if (turns.high.height - height >= least) {
    const told = turns.phase === 'level';
    const swings = turns.first ? turns.swings : remember(turns.swings, turns.high.height - turns.low);
    return [{ ...turns, phase: 'falling', low: height, base: turns.low, told, swings, first: false }, null];
  }
  if (turns.phase === 'level' && height - low >= least)
    return [{ ...turns, phase: 'rising', high: { place, height }, low, base: low }, null];
  return [{ ...turns, low }, null];
}

function fallOn(turns: Turns, place: number, height: number, least: number): [Turns, Turn | null] {
  const low = Math.min(turns.low, height);
  const fallen = { ...turns, low };
  const risen = height - low >= least;
  const far = turns.high.height - low >= 0.6 * (turns.high.height - turns.base);
  const turn = !turns.told && (risen || (far && place - turns.high.place >= 4)) ? lastTurn(fallen) : null;
  if (!risen) return [{ ...fallen, told: turns.told || turn !== null }, turn];
  const swings = remember(turns.swings, turns.high.height - low);
  return [
    { phase: 'rising', high: { place, height }, low, base: low, told: false, swings, first: false },
    turn,
  ];
}

const remember = (swings: readonly number[], size: number): readonly number[] => [
  ...swings.slice(1 - SWING.remembered),
  size,
];

/** The turn under way, for when no more readings follow: null unless a fall has begun and it was not told before. */
export const lastTurn = (turns: Turns): Turn | null =>
  turns.phase === 'falling' && !turns.told
    ? {
        place: turns.high.place,
        height: turns.high.height,
        rise: turns.high.height - turns.base,
        fall: turns.high.height - turns.low,
      }
    : null;
