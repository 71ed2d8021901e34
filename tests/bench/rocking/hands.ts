// The two hands: one plans strokes from side to side, the other throws a mass on a damped spring; each as the path of the jaws.
import type { Chance } from '../../support/chance.ts';

/** What the jaws do on the work, every `TICK` milliseconds. */
export interface Path {
  /** How far the jaws are off the diameter, in mm, either side. */
  readonly offset: readonly number[];
  /** How much a jaw not seated makes it read low (a bore) or high (an outside), in mm, zero or more. */
  readonly unseated: readonly number[];
}

/** Milliseconds between two points of a path. */
export const TICK = 2;

/** A stroke's progress from 0 to 1: between a swing's cosine and a planned reach (minimum jerk), sooner or later than even. */
function progress(at: number, planned: number, haste: number): number {
  const u = at ** haste;
  const swing = (1 - Math.cos(Math.PI * u)) / 2;
  const reach = u ** 3 * (10 - 15 * u + 6 * u * u);
  return swing + planned * (reach - swing);
}

interface Habit {
  readonly reach: number;
  readonly lasts: number;
  readonly lean: number;
  readonly rests: number;
  readonly planned: number;
}

/** How a hand rocks: across the diameter, mostly on one side of it, up to it from one side only, or never near it. */
export type Rocking = 'across' | 'leaning' | 'one-sided' | 'held-off' | 'short';

/**
 * A path of this many strokes across a diameter. Half swings of 1.5 to 5 mm (12 degrees at most), 0.5 to 1.4 s a
 * stroke at pace 1, leaning by up to 40 %;
 * a third of the strokes end with a rest, one in twelve pauses under way, one in fourteen turns back before the diameter;
 * tremor of 0.02 to 0.1 mm at 6 to 11 Hz; one stroke in fifteen is badly seated by 0.05 mm at the mean.
 */
export function strokes(
  chance: Chance,
  diameter: number,
  count: number,
  pace: number,
  how: Rocking = 'across',
  tremor = 1,
): Path {
  const habit = {
    reach: Math.min(chance.between(1.5, 5), (diameter / 2) * Math.sin((12 * Math.PI) / 180)),
    lasts: Math.exp(chance.between(Math.log(500), Math.log(1400))) / pace,
    lean: how === 'leaning' ? LEAN * (chance.happens(0.5) ? 1 : -1) : chance.between(-0.4, 0.4),
    rests: chance.between(0, 0.6),
    planned: chance.between(0, 1),
  };
  const ends = endsOf(chance, habit.reach, how);
  const offset: number[] = [];
  const unseated: number[] = [];
  let from = (chance.happens(0.5) ? 1 : -1) * habit.reach * chance.between(0.2, 1.1);
  for (let stroke = 0; stroke < count; stroke++) {
    const to = ends ? ends(stroke) : target(chance, habit, from);
    const seat = chance.happens(1 / 15) ? -0.05 * Math.log(1 - chance.uniform()) : 0;
    for (const e of oneStroke(chance, habit, from, to)) {
      offset.push(e);
      unseated.push(seat);
    }
    from = to;
  }
  return { offset: trembling(chance, offset, tremor), unseated };
}

const LEAN = 0.7;

/**
 * Where the strokes of a hand that never crosses the diameter end. One-sided: from its reach up to within 35 % of it.
 * Held off: swaying by 0.02 to 0.15 mm about a place 0.8 to 3 mm off, each sway its own by a quarter.
 */
function endsOf(chance: Chance, reach: number, how: Rocking): ((stroke: number) => number) | null {
  if (how === 'one-sided')
    return (stroke) => reach * (stroke % 2 === 0 ? chance.between(0, 0.35) : chance.between(0.7, 1.3));
  if (how !== 'held-off' && how !== 'short') return null;
  const place = chance.between(0.8, 3);
  const sway = how === 'short' ? chance.between(0.15, 0.5) : chance.between(0.02, 0.15);
  return (stroke) => place + (stroke % 2 === 0 ? -1 : 1) * sway * (1 + chance.normal(0.25));
}

function target(chance: Chance, { reach, lean }: Habit, from: number): number {
  const side = from > 0 ? -1 : 1;
  if (chance.happens(1 / 14)) return -side * reach * chance.between(0.05, 0.5);
  return side * reach * (1 + side * lean) * chance.between(0.6, 1.3);
}

function oneStroke(chance: Chance, habit: Habit, from: number, to: number): readonly number[] {
  const ticks = Math.round((habit.lasts * Math.exp(chance.normal(0.2))) / TICK);
  const haste = Math.exp(chance.normal(0.15));
  const pauseAt = chance.happens(1 / 12) ? chance.whole(1, ticks) : -1;
  const path: number[] = [];
  for (let tick = 1; tick <= ticks; tick++) {
    const e = from + (to - from) * progress(tick / ticks, habit.planned, haste);
    path.push(e);
    if (tick === pauseAt) path.push(...rest(chance, e));
  }
  return chance.happens(habit.rests) ? [...path, ...rest(chance, to)] : path;
}

const rest = (chance: Chance, at: number): readonly number[] =>
  new Array<number>(Math.round(chance.between(60, 500) / TICK)).fill(at);

function trembling(chance: Chance, path: readonly number[], times: number): readonly number[] {
  const waves = [0, 1, 2].map(() => ({
    size: times * chance.between(0.01, 0.05),
    turns: chance.between(6, 11),
    phase: chance.between(0, 1),
  }));
  return path.map((e, tick) =>
    waves.reduce(
      (sum, wave) =>
        sum + wave.size * Math.sin(2 * Math.PI * ((wave.turns * tick * TICK) / 1000 + wave.phase)),
      e,
    ),
  );
}

/**
 * A path that crosses the diameter about this many times. Throws of 1.5 to 4.5 mm, natural frequency 0.6 to 1.3 Hz at pace 1, damping 0.5 to 1.2 of critical,
 * throws at irregular moments (never planned ahead, so it overshoots, rings, creeps and sometimes turns short of the diameter),
 * a centre that wanders, white noise in the force; the seat is a slow process of chance, badly seated about a tenth of the time.
 */
export function pulled(chance: Chance, diameter: number, count: number, pace: number): Path {
  const reach = Math.min(chance.between(1.5, 4.5), (diameter / 2) * Math.sin((11 * Math.PI) / 180));
  const natural = 2 * Math.PI * chance.between(0.6, 1.3) * pace;
  const damping = chance.between(0.5, 1.2);
  const every = chance.between(500, 1300) / pace;
  const seconds = TICK / 1000;
  const offset: number[] = [];
  const unseated: number[] = [];
  let side = chance.happens(0.5) ? 1 : -1;
  let e = side * reach * chance.between(0.3, 1);
  let [speed, centre, seat] = [0, 0, 0.5];
  for (let thrown = 0; thrown < count; thrown++) {
    side = -side;
    const end = side * reach * chance.between(0.5, 1.4);
    const ticks = Math.round((every * chance.between(0.6, 1.6)) / TICK);
    for (let tick = 0; tick < ticks; tick++) {
      centre += -centre * seconds * 0.5 + chance.normal(0.15 * reach * Math.sqrt(seconds));
      seat += -seat * seconds * 0.8 + chance.normal(Math.sqrt(1.6 * seconds));
      const force = natural ** 2 * (end + centre - e) - 2 * damping * natural * speed;
      speed += force * seconds + chance.normal(natural * reach * 0.4 * Math.sqrt(seconds));
      e += speed * seconds;
      offset.push(e);
      unseated.push(0.03 * Math.max(0, seat - 1.3));
    }
  }
  return { offset, unseated };
}
