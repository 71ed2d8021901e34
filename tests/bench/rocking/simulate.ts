// A simulated rocking: a hand, the work's geometry, a caliper and its line, from a seed.

import type { Side } from '../../../src/core/measure/capture-settings.ts';
import type { Reading } from '../../../src/core/measure/reading.ts';
import { type Length, type LengthUnit, length, mm } from '../../../src/core/units.ts';
import { type Chance, hashedChanceFrom } from '../../support/chance.ts';
import { readingOf } from '../../support/readings.ts';
import { type Path, pulled, type Rocking, strokes, TICK } from './hands.ts';

export type Hand = 'strokes' | 'pulled';

export interface RockOptions {
  readonly side: Side;
  readonly hand: Hand;
  /** How hasty the hand is: 1 is ordinary, 1.7 is hasty. */
  readonly pace: number;
  /** Readings a second. */
  readonly rate: number;
  readonly unit: LengthUnit;
  /** Share of frames damaged. */
  readonly damage: number;
  /** The tilt along the axis is one uniform draw from plus or minus this many degrees for each trace. */
  readonly tiltDegrees: number;
  /** The caliper's own error is one uniform draw from plus or minus this for each trace, in mm. */
  readonly caliperError: number;
  /** How the first hand rocks, and how much more than usual it trembles. */
  readonly how: Rocking;
  readonly tremor: number;
  /** Standard deviation of a reading's flicker, in mm. */
  readonly noise: number;
  /** What is wrong with the work or the caliper, if anything. */
  readonly trouble: Trouble;
  /** Strokes, where not 5 to 9. */
  readonly strokes?: number;
}

/**
 * slip: the zero moves by 0.06 to 0.3 mm either way, somewhere in the middle third. square: two sizes 0.5 mm
 * apart in turn, 1 to 2 s each, and no curve. drift: 0.001 to 0.01 mm a second either way. oval: 0.05 to 0.3 mm, the
 * caliper turned by up to 10 degrees on the way. taper: the caliper walks along by a change of 0.03 to 0.3 mm. clipped: nothing
 * above 0.02 to 0.1 mm short of the size is shown.
 */
type Trouble = 'none' | 'slip' | 'square' | 'drift' | 'oval' | 'taper' | 'clipped';

export interface Rock {
  readonly readings: readonly Reading[];
  readonly truth: Length;
  /** Another bore that shows the very same line under another hand (`otherOf`); null where the line tells this one. */
  readonly other: number | null;
  /** What the jaws truly spanned, every `TICK` milliseconds, as a perfect caliper would have shown it. */
  readonly sizes: readonly number[];
}

export const PLAIN: RockOptions = {
  side: 'bore',
  hand: 'strokes',
  pace: 1,
  rate: 8,
  unit: 'mm',
  damage: 0,
  tiltDegrees: 0,
  caliperError: 0,
  how: 'across',
  tremor: 1,
  noise: 0.002,
  trouble: 'none',
};

/** One trace of a diameter from 18 to 95 mm with five to nine strokes, going in and coming out included. */
export function simulateRock(seed: number, options: RockOptions): Rock {
  const dice = hashedChanceFrom(seed);
  const diameter = dice.between(18, 95);
  const count = options.strokes ?? dice.whole(5, 9);
  const path =
    options.hand === 'pulled'
      ? pulled(dice, diameter, count, options.pace)
      : strokes(dice, diameter, count, options.pace, options.how, options.tremor);
  const tilt = (dice.between(-1, 1) * options.tiltDegrees * Math.PI) / 180;
  const error = dice.between(-1, 1) * options.caliperError;
  const whole = shown(path, diameter, tilt, options.side).map((value) => value + error);
  const onWork = troubled(dice, whole, diameter, options.trouble);
  const other = otherOf(options, diameter, whole, onWork);
  const all = [...goingIn(dice, onWork[0] ?? 0, options.side), ...onWork];
  const sizes = [...all, ...comingOut(dice, onWork.at(-1) ?? 0, options.side)];
  return { readings: line(dice, sizes, options), truth: mm(diameter), other, sizes };
}

/**
 * What else the line may be. Jaws that never span more than d show a bore of d as well: there the hand that is
 * sqrt(d^2 - v^2)/2 off the diameter shows v (derived). And a zero that slips up by s after the first peak, or before it, shows a
 * bore larger by s whose first stroke was badly seated by s. `tests/unit/rocking-twins.test.ts` shows both.
 */
function otherOf(
  { how, trouble }: RockOptions,
  diameter: number,
  whole: readonly number[],
  onWork: readonly number[],
): number | null {
  if (how === 'one-sided' || how === 'held-off' || how === 'short' || trouble === 'clipped')
    return onWork.reduce((most, size) => Math.max(most, size));
  if (trouble !== 'slip') return null;
  const by = (onWork.at(-1) ?? 0) - (whole.at(-1) ?? 0);
  const before = whole.filter((size, tick) => onWork[tick] === size);
  return by > 0 && crossingsOf(before, diameter) <= 1 ? diameter + by : null;
}

/** How often the sizes come within 0.015 mm of the diameter, from more than 0.04 mm below it. */
function crossingsOf(sizes: readonly number[], diameter: number): number {
  let [count, isBelow] = [0, true];
  for (const size of sizes) {
    if (isBelow && size > diameter - 0.015) [count, isBelow] = [count + 1, false];
    else if (size < diameter - 0.04) isBelow = true;
  }
  return count;
}

/** What goes wrong while the jaws are on the work; the truth stays what it was at the beginning. */
function troubled(dice: Chance, sizes: readonly number[], size: number, trouble: Trouble): readonly number[] {
  const sign = dice.happens(0.5) ? 1 : -1;
  const along = (tick: number): number => tick / sizes.length;
  switch (trouble) {
    case 'none':
      return sizes;
    case 'slip': {
      const [by, at] = [sign * dice.between(0.06, 0.3), dice.between(0.33, 0.67)];
      return sizes.map((value, tick) => (along(tick) < at ? value : value + by));
    }
    case 'square': {
      const half = dice.between(1000, 2000) / TICK;
      return sizes.map((_, tick) => (Math.floor(tick / half) % 2 === 0 ? size - 0.6 : size - 0.1));
    }
    case 'drift': {
      const each = (sign * dice.between(0.001, 0.01) * TICK) / 1000;
      return sizes.map((value, tick) => value + each * tick);
    }
    case 'oval': {
      const [half, from, by] = [
        dice.between(0.025, 0.15),
        dice.between(0, Math.PI),
        dice.between(-1, 1) / 5.73,
      ];
      const at = (tick: number): number => half * Math.cos(2 * (from + by * along(tick)));
      return sizes.map((value, tick) => value + at(tick) - at(sizes.length / 2));
    }
    case 'taper': {
      const by = sign * dice.between(0.03, 0.3);
      return sizes.map((value, tick) => value + by * (along(tick) - 0.5));
    }
    case 'clipped': {
      const most = size - dice.between(0.02, 0.1);
      return sizes.map((value) => Math.min(value, most));
    }
    default:
      return trouble satisfies never;
  }
}

/** A bore's chord sqrt(D^2 - 4 e^2); an outside's mirror image sqrt(D^2 + 4 e^2); over the cosine of the tilt. */
function shown(path: Path, diameter: number, tilt: number, side: Side): readonly number[] {
  const sign = side === 'bore' ? -1 : 1;
  return path.offset.map((e, tick) => {
    const chord = Math.sqrt(Math.max(0, diameter ** 2 + sign * 4 * e * e));
    return (chord + sign * (path.unseated[tick] ?? 0)) / Math.cos(tilt);
  });
}

/** The jaws from somewhere else to the work: held, moved, and sometimes moved past and back before they touch. */
function goingIn(dice: Chance, touch: number, side: Side): readonly number[] {
  const clear = side === 'bore' ? dice.between(0.6, 0.95) : dice.between(1.04, 1.4);
  const before = dice.happens(0.3) ? touch * dice.between(0, 1.6) : touch * clear;
  const held = new Array<number>(dice.whole(0, 1500 / TICK)).fill(before);
  return [...held, ...moved(dice, before, touch * clear), ...moved(dice, touch * clear, touch)];
}

function comingOut(dice: Chance, touch: number, side: Side): readonly number[] {
  const to = touch * (side === 'bore' ? dice.between(0.5, 0.97) : dice.between(1.02, 1.4));
  return [...moved(dice, touch, to), ...new Array<number>(dice.whole(0, 1000 / TICK)).fill(to)];
}

/** A slide at 15 to 90 mm/s, easing in and out. */
function moved(dice: Chance, from: number, to: number): readonly number[] {
  const ticks = Math.ceil((Math.abs(to - from) / dice.between(15, 90)) * (1000 / TICK));
  return Array.from(
    { length: ticks },
    (_, i) => from + ((to - from) * (1 - Math.cos((Math.PI * i) / ticks))) / 2,
  );
}

/** What the caliper shows of it: every so often, not quite evenly, with a flicker, rounded to its step. */
function line(dice: Chance, sizes: readonly number[], options: RockOptions): readonly Reading[] {
  const { rate, noise, unit, damage } = options;
  const perUnit = unit === 'mm' ? 100 : 2000;
  const step = length(1, unit) / perUnit;
  const times: number[] = [];
  const counts: number[] = [];
  let at = dice.between(0, 1000 / rate);
  while (at / TICK < sizes.length) {
    times.push(Math.round(at));
    counts.push(Math.round(((sizes[Math.floor(at / TICK)] ?? 0) + dice.normal(noise)) / step));
    at += (1000 / rate) * dice.between(0.93, 1.07);
  }
  return damaged(dice, counts, damage).map((count, i) =>
    readingOf(length(count / perUnit, unit), times[i], unit),
  );
}

/**
 * The counts shown (value over step), some of them damaged: a caliper's frame holds no check, so a flipped bit is a reading. About
 * `share` of all frames, half of those alone and half in bursts of 2 to 4. A damaged frame is one flipped bit of 0 to 19 of the
 * count (half), a plausible one up to 60 steps off (a quarter), or anything up to 15 000 (a quarter).
 */
function damaged(chance: Chance, counts: readonly number[], share: number): readonly number[] {
  const result = [...counts];
  let place = 0;
  while (place < counts.length) {
    const alone = chance.happens(share / 2);
    const burst = !alone && chance.happens(share / 6) ? chance.whole(2, 4) : 0;
    const many = alone ? 1 : burst;
    for (let i = 0; i < many && place + i < counts.length; i++)
      result[place + i] = wrong(chance, counts[place + i] ?? 0);
    place += Math.max(1, many);
  }
  return result;
}

function wrong(chance: Chance, count: number): number {
  if (chance.happens(0.5)) return Math.sign(count || 1) * (Math.abs(count) ^ (1 << chance.whole(0, 19)));
  return chance.happens(0.5)
    ? count + (chance.whole(0, 1) * 2 - 1) * chance.whole(1, 60)
    : chance.whole(0, 15000);
}
