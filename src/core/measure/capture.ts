// The capture of a diameter: one reading at a time, pure, each at the same cost however long it goes on.
import type { Length, LengthUnit } from '../units.ts';
import { type Agreement, agreementOf, VOTERS } from './agreement.ts';
import { type CaptureSettings, signOf } from './capture-settings.ts';
import { type Peak, peakAt, type Sample, standardOfPeak } from './peak.ts';
import type { Reading } from './reading.ts';
import { append, between, emptySeries, itemAt, type Series } from './reading.ts';
import { isRock, lastTurn, startTurns, type Turn, type Turns, turnOn, UNREST_FROM } from './turns.ts';

/** Everything a capture knows. It may be kept and compared; adding a reading leaves it as it was. */
export interface Capture {
  readonly settings: CaptureSettings;
  readonly readings: Series<Reading>;
  readonly finished: boolean;
  readonly units: Units;
  /** The reading that the next one should follow, and those since that do not follow it. */
  readonly last: Reading | null;
  readonly pending: readonly Sample[];
  /** The accepted readings; where among them the present run begins, and where its values turned. */
  readonly accepted: Series<Sample>;
  readonly start: number;
  readonly turns: Turns | null;
  /** Places of readings rejected at once; those that a peak rejected are with what was found. */
  readonly rejected: Series<number>;
  readonly found: Found;
}

/** The unit of this capture, and whether the caliper left it for good: readings from there on are kept but not used. */
interface Units {
  readonly unit: LengthUnit | null;
  /** Readings in the other unit in a row. */
  readonly other: number;
  readonly changed: { readonly from: LengthUnit; readonly to: LengthUnit } | null;
}

/** Worked out whenever a peak is found, not at each reading. */
interface Found {
  readonly peaks: Series<Peak>;
  readonly rejected: Series<number>;
  readonly agreement: Agreement | null;
}

/** What a hand can do; our own figures. */
const PLAUSIBLE = {
  /** A swing of 16 degrees off the diameter takes 4 % off a reading: more from one reading to the next is not a rock. */
  jump: 0.04,
  /** After this many readings elsewhere the jaws are elsewhere: no longer a burst of damage. */
  burst: 4,
  /** A rock is not followed across a silence longer than this, in ms. */
  gap: 1500,
  /** In mm: no box has a bore of a metre, and a caliper that shows one is out of order. */
  most: 1000,
  /** This many readings in another unit are no damage: the caliper was switched. */
  switched: 5,
  /** No hand rocks again within this many milliseconds. */
  apart: 250,
} as const;

const NONE: readonly Sample[] = [];
const AT_REST = { last: null, pending: NONE } as const;

export const startCapture = (settings: CaptureSettings): Capture => ({
  settings,
  readings: emptySeries(),
  finished: false,
  units: { unit: null, other: 0, changed: null },
  ...AT_REST,
  accepted: emptySeries(),
  start: 0,
  turns: null,
  rejected: emptySeries(),
  found: { peaks: emptySeries(), rejected: emptySeries(), agreement: null },
});

/** The capture with one more reading. A finished capture takes no more and stays as it is. */
export function addReading(capture: Capture, reading: Reading): Capture {
  if (capture.finished) return capture;
  const sample = { place: capture.readings.length, reading };
  const readings = append(capture.readings, reading);
  const units = unitsAfter(capture, reading.unit);
  // Nearly every reading: nothing is pending, and it follows the one before.
  if (units === capture.units && capture.pending.length === 0 && continues(capture.last, reading))
    return accept(capture, sample, readings);
  const followed = units.unit === capture.units.unit;
  const heard = { ...capture, ...(followed ? {} : AT_REST), readings, units };
  return units.changed ? heard : judge(heard, sample);
}

/** A unit that stays changed: before any peak the capture follows it, afterwards it stops there. */
function unitsAfter({ units, found }: Capture, now: LengthUnit): Units {
  const unit = units.unit ?? now;
  if (units.changed || (now === units.unit && units.other === 0)) return units;
  if (now === unit) return { unit, other: 0, changed: null };
  const other = units.other + 1;
  if (other < PLAUSIBLE.switched) return { unit, other, changed: null };
  if (found.peaks.length === 0) return { unit: now, other: 0, changed: null };
  return { unit, other, changed: { from: unit, to: now } };
}

const isPossible = (value: number): boolean => Number.isFinite(value) && Math.abs(value) <= PLAUSIBLE.most;

const follows = (a: Reading, b: Reading): boolean =>
  Math.abs(b.value - a.value) <= PLAUSIBLE.jump * Math.abs(a.value) + 0.05 && a.unit === b.unit;

const isBroken = (a: Reading, b: Reading): boolean => b.at - a.at > PLAUSIBLE.gap || b.at < a.at;

const continues = (last: Reading | null, reading: Reading): boolean =>
  last !== null && isPossible(reading.value) && !isBroken(last, reading) && follows(last, reading);

/** The capture with a reading accepted. Every reading makes one: fields written out, since a spread costs ten times as much. */
function accept(before: Capture, sample: Sample, readings = before.readings): Capture {
  const { settings, units, accepted, start, rejected, found } = before;
  const { reading } = sample;
  const height = signOf(settings.side) * reading.value;
  const turns = before.turns
    ? turnOn(before.turns, accepted.length, height, reading.step)
    : startTurns(accepted.length, height);
  const after: Capture = {
    settings,
    readings,
    finished: false,
    units,
    last: reading,
    pending: NONE,
    accepted: append(accepted, sample),
    start,
    turns,
    rejected,
    found,
  };
  return turns.turn ? { ...after, found: foundAt(after, turns, turns.turn) } : after;
}

/** The capture after a reading that did not simply follow: some rejected, some accepted late, or a new run begun. */
function judge(capture: Capture, sample: Sample): Capture {
  const { last, pending, units } = capture;
  const { reading } = sample;
  if (!isPossible(reading.value)) return reject(capture, [sample]);
  const before = pending.at(-1)?.reading ?? last;
  const sameUnit = reading.unit === units.unit;
  if (before && isBroken(before, reading)) return begin(newRun(reject(capture, pending)), sample, sameUnit);
  if (last && follows(last, reading)) return accept(reject(capture, pending), sample);
  if (!last && sameUnit && pending.length === 0) return begin(newRun(capture), sample, true);
  const longer = [...pending, sample];
  return longer.length > PLAUSIBLE.burst ? moved(capture, longer) : { ...capture, pending: longer };
}

const reject = (capture: Capture, samples: readonly Sample[]): Capture => ({
  ...capture,
  rejected: samples.reduce((all, { place }) => append(all, place), capture.rejected),
});

/** A turn under way when its run ends is looked at with what there is. */
const newRun = (capture: Capture): Capture => ({
  ...capture,
  found: foundAtEnd(capture),
  ...AT_REST,
  start: capture.accepted.length,
  turns: null,
});

const begin = (capture: Capture, sample: Sample, sameUnit: boolean): Capture =>
  sameUnit ? accept(capture, sample) : { ...capture, last: null, pending: [sample] };

/** The jaws are elsewhere: a new run from where the last readings follow one another. */
function moved(capture: Capture, pending: readonly Sample[]): Capture {
  const start = pending.findLastIndex(({ reading }, i) => {
    const before = pending[i - 1]?.reading;
    return !before || !follows(before, reading);
  });
  return pending
    .slice(start)
    .filter(({ reading }) => reading.unit === capture.units.unit)
    .reduce((after, sample) => accept(after, sample), newRun(capture));
}

/** The capture ended by the turner: the rock under way is checked once more, and no more readings are accepted. */
export const finishCapture = (capture: Capture): Capture =>
  capture.finished ? capture : { ...capture, found: foundAtEnd(capture), finished: true };

function foundAtEnd(capture: Capture): Found {
  const turn = capture.turns && lastTurn(capture.turns);
  return capture.turns && turn ? foundAt(capture, capture.turns, turn) : capture.found;
}

/** What is known once this turn is complete. */
function foundAt(capture: Capture, turns: Turns, turn: Turn): Found {
  const { accepted, start, settings, found } = capture;
  const step = itemAt(accepted, accepted.length - 1)?.reading.step ?? 0;
  const recent = (): readonly Reading[] =>
    between(accepted, Math.max(start, accepted.length - UNREST_FROM)).map(({ reading }) => reading);
  if (!isRock(turn, turns, step, recent)) return found;
  const peak = peakAt(capture, turn, settings.side);
  if (!peak) return found;
  const peaks = joined(found.peaks, peak);
  return {
    peaks,
    rejected: peak.rejected.reduce((all, place) => append(all, place), found.rejected),
    agreement: agreementOf(between(peaks, peaks.length - VOTERS), settings, step),
  };
}

/** A rock cut in two by a damaged reading gives its peak twice: the better placed one is kept. */
function joined(peaks: Series<Peak>, peak: Peak): Series<Peak> {
  const last = itemAt(peaks, peaks.length - 1);
  const apart = last ? Math.max(peak.halfSpan / 2, last.halfSpan / 2, PLAUSIBLE.apart) : 0;
  if (!last || Math.abs(peak.at - last.at) > apart) return append(peaks, peak);
  if (standardOfPeak(last, 1) <= standardOfPeak(peak, 1)) return peaks;
  return append({ length: peaks.length - 1, shared: peaks.shared }, peak);
}

/** One peak, for the drawing of the trace. */
export interface ShownPeak {
  readonly value: Length;
  readonly agrees: boolean;
  /** Places, in the capture's readings, of those the peak was found from. */
  readonly from: readonly number[];
}

/** Every peak found so far, in order of time, and whether it is among those that agree. */
export function peaksOf({ found }: Capture): readonly ShownPeak[] {
  const agreeing = new Set(found.agreement?.agreeing ?? []);
  return between(found.peaks, 0).map((peak) => ({
    value: peak.value,
    agrees: agreeing.has(peak),
    from: peak.from,
  }));
}

/** Every reading, as received and in order, also those rejected. */
export const readingsOf = ({ readings }: Capture): readonly Reading[] => between(readings, 0);

/** The last `count` readings, oldest first. */
export const recentReadings = ({ readings }: Capture, count: number): readonly Reading[] =>
  between(readings, readings.length - count);

/** Places, in `readingsOf`, of the readings that no hand could have made. */
export const rejectedReadings = ({ rejected, found }: Capture): readonly number[] =>
  [...new Set([...between(rejected, 0), ...between(found.rejected, 0)])].sort((a, b) => a - b);
