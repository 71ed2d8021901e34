// What the turns of a course amount to: their tops, those that agree, and the result where enough do.
import { mm } from '../units.ts';
import type { Reading } from './reading.ts';
import { AGREEMENT, type Agreement, agreementOf } from './rocking-agreement.ts';
import { driftOf } from './rocking-drift.ts';
import type { Heard } from './rocking-plausibility.ts';
import { resultOf } from './rocking-result.ts';
import type { CaptureSettings } from './rocking-settings.ts';
import { type Top, topOf } from './rocking-top.ts';
import type { Turn, Turns } from './rocking-turns.ts';
import type { Agreed, Doubt } from './rocking-verdict.ts';
import { append, between, emptySeries, itemAt, type Series } from './series.ts';

/** The readings followed: believed ones, where among them the present course begins, and where its values turned. */
export interface Course {
  readonly believed: Series<Heard>;
  readonly start: number;
  readonly turns: Turns | null;
}

/** Worked out anew whenever a top is found, not at each reading. */
export interface Found {
  readonly tops: Series<Top>;
  readonly thrown: Series<number>;
  readonly agreement: Agreement | null;
  readonly agreed: Agreed | null;
  readonly drift: Doubt | null;
}

export const nothingFound: Found = {
  tops: emptySeries(),
  thrown: emptySeries(),
  agreement: null,
  agreed: null,
  drift: null,
};

/** Our own figures, kept as data. */
export const ROCK = {
  /** A top is found from the readings that fall this share of the rock's height below it, and one beyond on either side. */
  share: 0.25,
  least: 1,
  most: 40,
  /** Swings larger than this share of the size are the jaws coming or going. */
  swing: 0.045,
  /** A turn smaller than this share of the largest swing is a tremble. */
  wobble: 0.03,
  /** Where no swing but one reaches so many steps, turns must stand so many standard deviations above the readings' unrest. */
  shallow: 8,
  aboveNoise: 5,
  listened: 32,
  /** No hand rocks again within so many milliseconds. */
  apart: 250,
} as const;

/** What is known once this turn is complete. */
export function findTop(
  found: Found,
  course: Course,
  turn: Turn,
  readings: Series<Reading>,
  settings: CaptureSettings,
): Found {
  const step = itemAt(readings, readings.length - 1)?.step ?? mm(0.01);
  if (isWobble(turn, course.turns?.swings.last ?? []) || isNoise(turn, course, step)) return found;
  const sign = settings.side === 'bore' ? 1 : -1;
  const start = reach(course, turn, sign, -1);
  const samples = between(course.believed, start, reach(course, turn, sign, 1) + 1);
  const top = topOf(samples, turn.place - start, Math.min(turn.rise, turn.fall), settings.side);
  return top ? withTop(found, top, settings, Math.max(...samples.map(({ reading }) => reading.step))) : found;
}

/** Whether a turn is so small beside the last swings (those that jaws on the work can make) that it is a tremble. */
function isWobble(turn: Turn, swings: readonly number[]): boolean {
  const most = ROCK.swing * Math.abs(turn.height);
  let largest = 0;
  for (const swing of swings) if (swing <= most) largest = Math.max(largest, swing);
  return Math.min(turn.rise, turn.fall) < ROCK.wobble * largest;
}

/**
 * Whether a shallow turn is no more than the readings' own unrest. That is told by their third differences, which a smooth
 * rock leaves small: of noise alone they have sqrt(20) times its standard deviation (1 + 9 + 9 + 1), and a quarter of them
 * are smaller than 0.3186 of that (the normal quantile of 5/8). The smallest quarter, since a swing only adds to them.
 */
function isNoise(turn: Turn, { believed, start, turns }: Course, step: number): boolean {
  const height = Math.min(turn.rise, turn.fall);
  const rocked = (swing: number) =>
    swing >= ROCK.shallow * step && swing <= ROCK.swing * Math.abs(turn.height);
  if (height >= ROCK.shallow * step || (turns?.swings.last ?? []).filter(rocked).length > 1) return false;
  const values = between(believed, Math.max(start, believed.length - ROCK.listened)).map(
    ({ reading }) => reading.value,
  );
  const thirds: number[] = [];
  for (let i = 3; i < values.length; i++) {
    const [a = 0, b = 0, c = 0, d = 0] = values.slice(i - 3, i + 1);
    thirds.push(Math.abs(d - 3 * c + 3 * b - a));
  }
  const quarter = thirds.sort((a, b) => a - b)[Math.floor(thirds.length / 4)] ?? 0;
  return height < (ROCK.aboveNoise * quarter) / 0.3186 / Math.sqrt(20);
}

/** How far to one side the readings belong to this top: to the first that falls out of its crown. */
function reach({ believed, start }: Course, turn: Turn, sign: number, direction: 1 | -1): number {
  const height = Math.min(Math.max(turn.rise, turn.fall), 2 * Math.min(turn.rise, turn.fall));
  const floor = turn.height - ROCK.share * height;
  let below = 0;
  let place = turn.place;
  for (let count = 0; count < ROCK.most; count++) {
    const next = place + direction;
    const heard = next >= start ? itemAt(believed, next) : undefined;
    if (!heard || (count > 0 && sign * heard.reading.value > turn.height)) break;
    below = sign * heard.reading.value < floor ? below + 1 : 0;
    if (below > 0 && count >= ROCK.least) return below > 1 ? place : next;
    place = next;
  }
  return place;
}

function withTop(found: Found, top: Top, settings: CaptureSettings, step: number): Found {
  const tops = joined(found.tops, top);
  const agreement = agreementOf(between(tops, tops.length - AGREEMENT.voters), settings, step);
  return {
    tops,
    thrown: top.thrown.reduce((all, place) => append(all, place), found.thrown),
    agreement,
    agreed: agreement?.closed ? resultOf(agreement, settings) : null,
    drift: agreement && driftOf(agreement.nearby, settings),
  };
}

/** A rock cut in two by a damaged reading gives its top twice: the better placed one is kept. */
function joined(tops: Series<Top>, top: Top): Series<Top> {
  const last = itemAt(tops, tops.length - 1);
  const apart = last ? Math.max(top.halfSpan / 2, last.halfSpan / 2, ROCK.apart) : 0;
  if (!last || Math.abs(top.at - last.at) > apart) return append(tops, top);
  if (last.standard <= top.standard) return tops;
  return append({ length: tops.length - 1, shared: tops.shared }, top);
}
