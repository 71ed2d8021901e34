// The capture itself: one reading at a time, pure, each at the same cost however long it goes on.
import type { LengthUnit } from '../units.ts';
import type { Reading } from './reading.ts';
import { type Course, type Found, findTop, nothingFound } from './rocking-found.ts';
import {
  continues,
  type Heard,
  NONE,
  type Screen,
  type Screened,
  screenReading,
  startScreen,
} from './rocking-plausibility.ts';
import type { CaptureSettings } from './rocking-settings.ts';
import { lastTurn, leastSwing, startTurns, type Turn, turnOn } from './rocking-turns.ts';
import { append, emptySeries, type Series } from './series.ts';

/** Everything a capture knows. It may be kept and compared; adding a reading leaves it as it was. */
export interface Capture {
  readonly settings: CaptureSettings;
  readonly readings: Series<Reading>;
  readonly finished: boolean;
  readonly units: Units;
  readonly screen: Screen;
  /** Places of readings thrown out at once; those that a top threw out are with what was found. */
  readonly thrown: Series<number>;
  readonly course: Course;
  readonly found: Found;
}

/** The unit of this capture, and whether the caliper left it for good: readings from there on are kept but not used. */
interface Units {
  readonly unit: LengthUnit | null;
  /** Readings in the other unit in a row. */
  readonly other: number;
  readonly changed: { readonly from: LengthUnit; readonly to: LengthUnit } | null;
}

/** So many readings in another unit are no damage: the caliper was switched. */
const SWITCHED = 5;

export const startCapture = (settings: CaptureSettings): Capture => ({
  settings,
  readings: emptySeries(),
  finished: false,
  units: { unit: null, other: 0, changed: null },
  screen: startScreen,
  thrown: emptySeries(),
  course: { believed: emptySeries(), start: 0, turns: null },
  found: nothingFound,
});

/** The capture with one more reading. A finished capture takes no more and stays as it is. */
export function addReading(capture: Capture, reading: Reading): Capture {
  if (capture.finished) return capture;
  const readings = append(capture.readings, reading);
  const units = unitsAfter(capture, reading.unit);
  if (units.changed) return { ...capture, readings, units };
  const followed = units.unit === capture.units.unit;
  const screen = followed ? capture.screen : startScreen;
  const heard = { place: capture.readings.length, reading, sameUnit: reading.unit === units.unit };
  const { settings, thrown, course, found } = capture;
  // Nearly every reading: nothing was doubted, and it follows the one before.
  if (continues(screen, heard)) {
    const [after, turn] = believe(course, heard, settings);
    const next = turn ? findTop(found, after, turn, readings, settings) : found;
    return captureOf(settings, readings, units, { believed: heard, doubted: NONE }, thrown, after, next);
  }
  return screened(capture, readings, units, screenReading(screen, heard));
}

const captureOf = (
  settings: CaptureSettings,
  readings: Series<Reading>,
  units: Units,
  screen: Screen,
  thrown: Series<number>,
  course: Course,
  found: Found,
): Capture => ({ settings, readings, finished: false, units, screen, thrown, course, found });

/** The capture after a reading that did not simply follow: some thrown out, some believed late, or a new course begun. */
function screened(capture: Capture, readings: Series<Reading>, units: Units, judged: Screened): Capture {
  const { settings } = capture;
  let { thrown, course, found } = capture;
  for (const bad of judged.thrown) thrown = append(thrown, bad.place);
  if (judged.fresh) {
    found = foundAtEnd(capture);
    course = { believed: course.believed, start: course.believed.length, turns: null };
  }
  for (const heard of judged.believed) {
    const [after, turn] = believe(course, heard, settings);
    course = after;
    if (turn) found = findTop(found, course, turn, readings, settings);
  }
  return captureOf(settings, readings, units, judged.screen, thrown, course, found);
}

/** The capture ended by the turner: what is under way is looked at once more, and no more readings are taken. */
export const finishCapture = (capture: Capture): Capture =>
  capture.finished ? capture : { ...capture, found: foundAtEnd(capture), finished: true };

/** A unit that stays changed: before any top the capture follows it, afterwards it stops there. */
function unitsAfter({ units, found }: Capture, now: LengthUnit): Units {
  const unit = units.unit ?? now;
  if (units.changed || (now === units.unit && units.other === 0)) return units;
  if (now === unit) return { unit, other: 0, changed: null };
  const other = units.other + 1;
  if (other < SWITCHED) return { unit, other, changed: null };
  if (found.tops.length === 0) return { unit: now, other: 0, changed: null };
  return { unit, other, changed: { from: unit, to: now } };
}

/** A turn under way when its course ends is looked at with what there is. */
function foundAtEnd({ course, found, readings, settings }: Capture): Found {
  const turn = course.turns && lastTurn(course.turns);
  return turn ? findTop(found, course, turn, readings, settings) : found;
}

/** The course with one more reading, and the turn that is complete with it. */
function believe(course: Course, heard: Heard, { side }: CaptureSettings): [Course, Turn | null] {
  const place = course.believed.length;
  const believed = append(course.believed, heard);
  const { value, step } = heard.reading;
  const height = side === 'bore' ? value : -value;
  if (!course.turns) return [{ believed, start: course.start, turns: startTurns(place, height) }, null];
  const [turns, turn] = turnOn(course.turns, place, height, leastSwing(course.turns, height, step));
  return [{ believed, start: course.start, turns }, turn];
}
