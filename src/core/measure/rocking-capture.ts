// The capture itself: one reading at a time, pure, each at the same cost however long it goes on.
import { type LengthUnit, mm } from '../units.ts';
import type { Reading } from './reading.ts';
import { AGREEMENT, type Agreement, agreementOf } from './rocking-agreement.ts';
import { driftOf } from './rocking-drift.ts';
import { type Heard, type Screen, screenReading, startScreen } from './rocking-plausibility.ts';
import { resultOf } from './rocking-result.ts';
import type { CaptureSettings } from './rocking-settings.ts';
import { type Sample, type Top, topOf } from './rocking-top.ts';
import { lastTurn, leastSwing, startTurns, type Turn, type Turns, turnOn } from './rocking-turns.ts';
import type { Agreed, Doubt } from './rocking-verdict.ts';
import { append, between, emptySeries, itemAt, type Series } from './series.ts';

/** Everything a capture knows. It may be kept and compared; adding a reading leaves it as it was. */
export interface Capture {
  readonly settings: CaptureSettings;
  readonly readings: Series<Reading>;
  readonly finished: boolean;
  readonly unit: LengthUnit | null;
  /** Where the unit changed for good: readings from there on are kept but not used. */
  readonly changed: { readonly from: LengthUnit; readonly to: LengthUnit } | null;
  readonly otherUnit: number;
  readonly screen: Screen;
  /** Places of the believed readings, and where among them the present course begins. */
  readonly believed: Series<Heard>;
  readonly course: number;
  readonly turns: Turns | null;
  readonly tops: Series<Top>;
  readonly thrown: Series<number>;
  readonly agreement: Agreement | null;
  /** The result where enough tops agree, and the drift where they drift: worked out when a top is found, not at each reading. */
  readonly agreed: Agreed | null;
  readonly drift: Doubt | null;
}

export const startCapture = (settings: CaptureSettings): Capture => ({
  settings,
  readings: emptySeries(),
  finished: false,
  unit: null,
  changed: null,
  otherUnit: 0,
  screen: startScreen,
  believed: emptySeries(),
  course: 0,
  turns: null,
  tops: emptySeries(),
  thrown: emptySeries(),
  agreement: null,
  agreed: null,
  drift: null,
});

/** The capture with one more reading. A finished capture takes no more and stays as it is. */
export function addReading(capture: Capture, reading: Reading): Capture {
  if (capture.finished) return capture;
  const kept = { ...capture, readings: append(capture.readings, reading) };
  const minded = mindUnit(kept, reading);
  if (minded.changed) return minded;
  const heard: Heard = {
    place: capture.readings.length,
    at: reading.at,
    value: reading.value,
    sameUnit: reading.unit === minded.unit,
  };
  const { screen, believed, fresh, thrown } = screenReading(minded.screen, heard);
  const screened = {
    ...minded,
    screen,
    thrown: thrown.reduce((all, bad) => append(all, bad.place), minded.thrown),
  };
  const coursed = fresh ? newCourse(screened) : screened;
  return believed.reduce(believe, coursed);
}

/** The capture ended by the turner: what is under way is looked at once more, and no more readings are taken. */
export function finishCapture(capture: Capture): Capture {
  const turn = capture.turns && lastTurn(capture.turns);
  return { ...(turn ? withTop(capture, turn) : capture), finished: true };
}

/** A unit that stays changed: before any top the capture follows it, afterwards it stops there. */
function mindUnit(capture: Capture, reading: Reading): Capture {
  if (capture.changed) return capture;
  const unit = capture.unit ?? reading.unit;
  if (reading.unit === unit)
    return capture.unit && capture.otherUnit === 0 ? capture : { ...capture, unit, otherUnit: 0 };
  const otherUnit = capture.otherUnit + 1;
  if (otherUnit <= 4) return { ...capture, otherUnit };
  if (capture.tops.length > 0) return { ...capture, changed: { from: unit, to: reading.unit } };
  return { ...newCourse(capture), unit: reading.unit, otherUnit: 0, screen: startScreen };
}

/** What follows is not to be joined with what was before; a turn under way is looked at with what there is. */
function newCourse(capture: Capture): Capture {
  const turn = capture.turns && lastTurn(capture.turns);
  const closed = turn ? withTop(capture, turn) : capture;
  return { ...closed, course: closed.believed.length, turns: null };
}

function believe(capture: Capture, heard: Heard): Capture {
  const believed = append(capture.believed, heard);
  const place = capture.believed.length;
  const height = capture.settings.side === 'bore' ? heard.value : -heard.value;
  if (!capture.turns) return { ...capture, believed, turns: startTurns(place, height) };
  const step = stepAt(capture, heard);
  const [turns, turn] = turnOn(capture.turns, place, height, leastSwing(capture.turns, height, step));
  const next = { ...capture, believed, turns };
  return turn ? withTop(next, turn) : next;
}

const stepAt = (capture: Capture, heard: Heard): number =>
  itemAt(capture.readings, heard.place)?.step ?? mm(0.01);

/** The readings of a rock on either side of its top, so far as they matter: while they fall less than half its height. */
function samplesOf(
  capture: Capture,
  turn: Turn,
): { readonly samples: readonly Sample[]; readonly centre: number } {
  const start = reach(capture, turn, -1);
  const end = reach(capture, turn, 1);
  const samples = between(capture.believed, start, end + 1).map((heard) => ({
    place: heard.place,
    at: heard.at,
    value: mm(heard.value),
    step: mm(stepAt(capture, heard)),
  }));
  return { samples, centre: turn.place - start };
}

const REACH = { least: 1, most: 40, share: 0.25 } as const;

function reach(capture: Capture, turn: Turn, direction: 1 | -1): number {
  const sign = capture.settings.side === 'bore' ? 1 : -1;
  const height = Math.min(Math.max(turn.rise, turn.fall), 2 * Math.min(turn.rise, turn.fall));
  const floor = turn.height - REACH.share * height;
  let below = 0;
  let place = turn.place;
  for (let count = 0; count < REACH.most; count++) {
    const next = place + direction;
    const heard = next >= capture.course ? itemAt(capture.believed, next) : undefined;
    if (!heard || (count > 0 && sign * heard.value > turn.height)) break;
    below = sign * heard.value < floor ? below + 1 : 0;
    if (below > 0 && count >= REACH.least) return below > 1 ? place : next;
    place = next;
  }
  return place;
}

function withTop(capture: Capture, turn: Turn): Capture {
  if (isWobble(turn, capture.turns?.swings ?? [])) return capture;
  const { samples, centre } = samplesOf(capture, turn);
  const top = topOf(samples, centre, Math.min(turn.rise, turn.fall), capture.settings.side);
  if (!top) return capture;
  const tops = joined(capture.tops, top);
  const recent = between(tops, tops.length - AGREEMENT.voters);
  const step = Math.max(...samples.map((sample) => sample.step));
  const thrown = top.thrown.reduce((all, place) => append(all, place), capture.thrown);
  const agreement = agreementOf(recent, capture.settings, step);
  return {
    ...capture,
    tops,
    thrown,
    agreement,
    agreed: agreement?.closed ? resultOf(agreement, capture.settings) : null,
    drift: agreement && driftOf(agreement.nearby, capture.settings),
  };
}

/** Whether a turn is so small beside the capture's swings (those that jaws on the work can make) that it is a tremble. */
function isWobble(turn: Turn, swings: readonly number[]): boolean {
  const most = SWINGS.ofSize * Math.abs(turn.height);
  const largest = Math.max(0, ...swings.filter((swing) => swing <= most));
  return Math.min(turn.rise, turn.fall) < SWINGS.wobble * largest;
}

const SWINGS = { ofSize: 0.045, wobble: 0.03, apart: 250 } as const;

/** A rock cut in two by a damaged reading gives its top twice: the better placed one is kept. */
function joined(tops: Series<Top>, top: Top): Series<Top> {
  const last = itemAt(tops, tops.length - 1);
  if (!last || Math.abs(top.at - last.at) > Math.max(top.halfSpan / 2, last.halfSpan / 2, SWINGS.apart))
    return append(tops, top);
  if (last.standard <= top.standard) return tops;
  return append({ length: tops.length - 1, shared: tops.shared }, top);
}
