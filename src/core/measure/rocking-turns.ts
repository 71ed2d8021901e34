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
  readonly swings: Swings;
}

export interface Swings {
  /** Whether the first swing of the course is still under way: it may be the jaws' coming, and is not remembered. */
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
  high: Turns['high'],
  low: number,
  base: number,
  told: boolean,
  swings: Swings,
): Turns => ({ phase, high, low, base, told, swings });

export const startTurns = (place: number, height: number): Turns =>
  turnsOf('level', { place, height }, height, height, true, { first: true, last: [], usual: 0 });

/** The least swing that counts now. */
export const leastSwing = ({ swings }: Turns, size: number, step: number): number =>
  Math.max(SWING.steps * step, Math.min(SWING.share * swings.usual, SWING.ofSize * Math.abs(size)));

/** The turns with one more height, and the turn that is complete with it, if one is. */
export function turnOn(turns: Turns, place: number, height: number, least: number): [Turns, Turn | null] {
  const { phase, high, base, told, swings } = turns;
  if (phase === 'falling') return fallOn(turns, place, height, least);
  const low = phase === 'level' ? Math.min(turns.low, height) : turns.low;
  const rising = phase === 'rising' || height - low >= least;
  if (height > high.height)
    return [turnsOf(rising ? 'rising' : 'level', { place, height }, low, low, told, swings), null];
  if (high.height - height >= least) {
    const swung = swings.first ? { ...swings, first: false } : remember(swings, high.height - turns.low);
    return [turnsOf('falling', high, height, turns.low, phase === 'level', swung), null];
  }
  if (phase === 'level' && rising)
    return [turnsOf('rising', { place, height }, low, low, told, swings), null];
  return [low === turns.low ? turns : turnsOf(phase, high, low, base, told, swings), null];
}

function fallOn(turns: Turns, place: number, height: number, least: number): [Turns, Turn | null] {
  const { high, base, told, swings } = turns;
  const low = Math.min(turns.low, height);
  const risen = height - low >= least;
  const far = high.height - low >= 0.6 * (high.height - base);
  const complete = !told && (risen || (far && place - high.place >= 4));
  if (!complete && !risen && low === turns.low) return [turns, null];
  const fallen = turnsOf('falling', high, low, base, told || complete, swings);
  const turn = complete ? turnAt(fallen) : null;
  if (!risen) return [fallen, turn];
  const swung = remember(swings, high.height - low);
  return [turnsOf('rising', { place, height }, low, low, false, swung), turn];
}

/** The swings with one more, and the usual one of them. */
function remember({ last }: Swings, size: number): Swings {
  const sizes = [...last.slice(1 - SWING.remembered), size];
  return { first: false, last: sizes, usual: thirdLargest(sizes) };
}

/** 0 where there are not so many. */
function thirdLargest(sizes: readonly number[]): number {
  let [first, second, third] = [0, 0, 0];
  for (const size of sizes) {
    if (size > first) [first, second, third] = [size, first, second];
    else if (size > second) [second, third] = [size, second];
    else if (size > third) third = size;
  }
  return third;
}

/** The turn under way, for when no more readings follow: null unless a fall has begun and it was not told before. */
export const lastTurn = (turns: Turns): Turn | null =>
  turns.phase === 'falling' && !turns.told ? turnAt(turns) : null;

const turnAt = ({ high, base, low }: Turns): Turn => ({
  place: high.place,
  height: high.height,
  rise: high.height - base,
  fall: high.height - low,
});
