// The simulated turner's hands: what they do with the caliper, move after move, and how they turn the feed wheel.
import type { Part } from '../../core/thread/pair.ts';
import { degrees, type Length } from '../../core/units.ts';
import type { Chance } from './chance.ts';
import { atTarget, pass, type Work } from './lathe.ts';

/** What the turner is doing. */
export type Activity =
  | { readonly doing: 'rest' }
  | { readonly doing: 'close-jaws' }
  | { readonly doing: 'measure-hollow'; readonly where: 'mouth' | 'depth' }
  | { readonly doing: 'rock-bore' }
  | { readonly doing: 'cut-spigot'; readonly target: Length }
  | { readonly doing: 'touch-off'; readonly part: Part }
  | { readonly doing: 'feed-in'; readonly part: Part; readonly detents: number }
  /** Screws the pair together, then says what it did by so many presses of the button that goes to the next word. */
  | { readonly doing: 'trial'; readonly presses: number }
  /** The jaws in the bore go where `nudge` sends them. */
  | { readonly doing: 'rock-by-key' };

/** The work on the lathe, the mishaps in the turner's hands, and the random numbers that vary both. */
export interface Workshop {
  /** Of the hands and the caliper. */
  readonly chance: Chance;
  /** Of the wood and the cuts, on its own: the same seed gives the same work, however long anybody waits. */
  readonly lathe: Chance;
  work: Work;
  /** A chip caught between a jaw and the bore's wall, in millimetres: it takes as much off every reading. */
  chip: number;
  /** Where keys send the jaws: this far off the middle of the bore, in millimetres. */
  sentTo: number;
}

/** A jaw opening in millimetres, over a share of the move's time that runs from 0 to 1. */
export interface Move {
  /** Milliseconds. */
  readonly lasts: number;
  readonly opening: (share: number) => number;
}

const eased = (share: number): number => (1 - Math.cos(Math.PI * share)) / 2;

const hold = (opening: number, lasts: number): Move => ({ lasts, opening: () => opening });

/** From one opening to another, starting and ending gently. */
const glide = (from: number, to: number, lasts: number): Move => ({
  lasts,
  opening: (share) => from + (to - from) * eased(share),
});

/**
 * One swing of the jaws across a bore, from one side of its diameter to the other: off the middle by e they span the
 * chord sqrt(D^2 - 4 e^2), and tilted along the axis D / cos(tilt) (derived from the circle).
 */
const swingInBore = (
  diameter: number,
  fromOff: number,
  toOff: number,
  tilt: number,
  lasts: number,
): Move => ({
  lasts,
  opening: (share) => {
    const off = fromOff + (toOff - fromOff) * eased(share);
    return Math.sqrt(diameter ** 2 - 4 * off ** 2) / Math.cos(tilt);
  },
});

/** One swing of parallel jaws over a spigot: never less than the diameter, and that only when square to the axis. */
const swingOverSpigot = (diameter: number, fromTilt: number, toTilt: number, lasts: number): Move => ({
  lasts,
  opening: (share) => diameter / Math.cos(fromTilt + (toTilt - fromTilt) * eased(share)),
});

/** The moves of an activity, without end; `opening` says where the jaws are as each move begins. */
export function movesOf(activity: Activity, shop: Workshop, opening: () => number): Iterator<Move> {
  switch (activity.doing) {
    case 'rest':
    case 'trial':
    case 'touch-off':
    case 'feed-in':
      return resting(opening);
    case 'close-jaws':
      return closing(opening);
    case 'measure-hollow':
      return rocking(shop.work.hollow[activity.where], shop.chance, opening);
    case 'rock-bore':
      return rocking(shop.work.bore - shop.chip, shop.chance, opening);
    case 'rock-by-key':
      return rockingByKey(shop, opening);
    case 'cut-spigot':
      return cutting(activity.target, shop, opening);
    default: {
      const never: never = activity;
      throw new TypeError(`no such activity: ${JSON.stringify(never)}`);
    }
  }
}

function* resting(opening: () => number): Generator<Move> {
  while (true) yield hold(opening(), 1000);
}

function* closing(opening: () => number): Generator<Move> {
  yield glide(opening(), 0, 900);
  while (true) yield hold(0, 1000);
}

/** In at an angle, out to the walls, then swing after swing through the diameter, no two alike. */
function* rocking(diameter: number, chance: Chance, opening: () => number): Generator<Move> {
  yield glide(opening(), diameter - chance.between(3, 5), 700);
  let side = chance.share() < 0.5 ? -1 : 1;
  let off = side * chance.between(1.8, 2.6);
  yield glide(opening(), Math.sqrt(diameter ** 2 - 4 * off ** 2), 600);
  while (true) {
    side = -side;
    const next = side * chance.between(1.4, 2.6);
    const tilt = chance.spread(degrees(0.3));
    yield swingInBore(diameter, off, next, tilt, chance.between(800, 1300));
    off = next;
  }
}

/** Jaws put into another ring are off the middle to the left. */
export const PUT_IN = -2;
/** How far one key sends the jaws, how far they go at most, in millimetres, and how fast: our own choice. */
const NUDGE = { by: 0.5, most: 2.6, perSecond: 3 } as const;

export function nudged(sentTo: number, way: -1 | 1): number {
  return Math.max(-NUDGE.most, Math.min(NUDGE.most, sentTo + way * NUDGE.by));
}

/** The jaws follow the keys, a tenth of a second at a time and never faster than a hand. */
function* rockingByKey(shop: Workshop, opening: () => number): Generator<Move> {
  const { bore } = shop.work;
  const chord = (off: number): number => Math.sqrt(bore ** 2 - 4 * off ** 2);
  let off: number = PUT_IN;
  yield glide(opening(), chord(off), 700);
  const most = NUDGE.perSecond / 10;
  while (true) {
    const [from, to] = [off, off + Math.max(-most, Math.min(most, shop.sentTo - off))];
    yield { lasts: 100, opening: (share) => chord(from + (to - from) * share) };
    off = to;
  }
}

/** Pass by pass: the jaws keep the last size during a cut, then go over the work with the lathe stopped. */
function* cutting(target: number, shop: Workshop, opening: () => number): Generator<Move> {
  const { chance } = shop;
  while (!atTarget(shop.work, target)) {
    yield hold(opening(), chance.between(1200, 2200));
    shop.work = pass(shop.work, target, shop.lathe);
    yield* over(shop.work.spigot ?? target, chance, opening);
    yield* swings(shop.work.spigot ?? target, chance, 2);
  }
  yield* over(shop.work.spigot ?? target, chance, opening);
  while (true) {
    const diameter = shop.work.spigot ?? target;
    yield* swings(diameter, chance, 2);
    yield glide(opening(), diameter, 400);
    yield hold(diameter, STILL_MS);
  }
}

/** How long the jaws then rest square on the spigot: time for somebody to read the screen and press a key. */
const STILL_MS = 6000;
const OVER_TILT = degrees(4);

function* over(diameter: number, chance: Chance, opening: () => number): Generator<Move> {
  const clear = Math.max(opening(), diameter) + chance.between(0.6, 1.2);
  yield glide(opening(), clear, 350);
  yield glide(clear, diameter / Math.cos(OVER_TILT), 500);
}

function* swings(diameter: number, chance: Chance, count: number): Generator<Move> {
  let tilt: number = OVER_TILT;
  for (let swing = 0; swing < count; swing++) {
    const next = swing === count - 1 ? OVER_TILT : -chance.between(degrees(3), degrees(5));
    yield swingOverSpigot(diameter, tilt, next, chance.between(800, 1200));
    tilt = next;
  }
}

/** One detent of the feed wheel, or one press of a button: how long after the one before. */
export interface HandStep {
  /** Milliseconds. */
  readonly after: number;
  /** Which way the wheel goes; 0 for a press. */
  readonly by: 1 | -1 | 0;
}

/** How long a turner takes to screw a pair together, and between two presses, in milliseconds. */
const TRYING_MS = 5000;
const PRESS_MS = 500;

/** The detents and presses of an activity, one after another; then the hand rests. */
export function handStepsOf(activity: Activity, chance: Chance): readonly HandStep[] {
  if (activity.doing === 'trial')
    return Array.from({ length: activity.presses }, (_, at) => ({
      after: at === 0 ? TRYING_MS : PRESS_MS,
      by: 0,
    }));
  if (activity.doing === 'touch-off') return touchingOff(chance);
  if (activity.doing !== 'feed-in') return [];
  const by = activity.detents < 0 ? -1 : 1;
  return Array.from({ length: Math.abs(activity.detents) }, () => ({
    after: Math.round(chance.between(900, 1500)),
    by,
  }));
}

/** Quickly in, then slower and slower until the cutter just touches. */
function touchingOff(chance: Chance): readonly HandStep[] {
  const detents = Math.round(chance.between(5, 9));
  return Array.from({ length: detents }, (_, index) => ({
    after: Math.round(chance.between(180, 260) + (index * 700) / detents),
    by: 1,
  }));
}
