// Bore size: the rocked maximum, agreed between rocks or refused with its reason; typed values where there is no line.
import { addReading, type Capture, finishCapture, startCapture } from '../../measure/capture.ts';
import { defaultSettings } from '../../measure/capture-settings.ts';
import { type Doubt, verdictOf } from '../../measure/verdict.ts';
import { extentOf, meanOf } from '../../statistics.ts';
import { type Length, mm } from '../../units.ts';
import { captureSettings, correctReading } from '../correct-reading.ts';
import type { KeptReading } from '../entry.ts';
import { andThen, becomes, keep, type Outcome, refuse, sounding, unchanged } from '../outcome.ts';
import { TRAIL_AT_MOST, type Trail } from '../state.ts';
import { typedReading } from '../typed-reading.ts';
import { badNumber, rememberReading, resetLive, type StageRules, type WithJob } from './rules.ts';

/** The chain of raw readings as a list, oldest first. */
export function trailOf(trail: Trail | null): readonly KeptReading[] {
  const readings: KeptReading[] = [];
  for (let link = trail; link; link = link.before) readings.push(link.reading);
  return readings.reverse();
}

const started = (bench: WithJob): WithJob => ({
  ...resetLive(bench),
  capture: startCapture(captureSettings(bench.job, defaultSettings('bore'))),
});

/** A caliper that lay idle for long has filled the capture with nothing: it begins anew. One that agreed stands as it is. */
function heard(bench: WithJob, reading: KeptReading): Outcome {
  if (!bench.capture) return unchanged(bench);
  if ((bench.trail?.count ?? 0) < TRAIL_AT_MOST) return listened(bench, bench.capture, reading);
  if (verdictOf(bench.capture).state === 'steady') return unchanged(bench);
  return listened(bench, startCapture(bench.capture.settings), reading, null);
}

function listened(bench: WithJob, before: Capture, reading: KeptReading, trailed = bench.trail): Outcome {
  const capture = addReading(before, reading);
  const trail = { reading, before: trailed, count: (trailed?.count ?? 0) + 1 };
  const next = becomes(bench, { capture, trail });
  const agreedNow = verdictOf(before).state !== 'steady' && verdictOf(capture).state === 'steady';
  return agreedNow ? andThen(next, (at) => sounding({ ...at, notice: null }, 'agreed')) : next;
}

/** Typed values: their mean, their number, their spread. */
function takeTyped(bench: WithJob): Outcome {
  const values = bench.readings.map((reading) => reading.value);
  const mean = mm(meanOf(values));
  const spread = values.length > 1 ? mm(extentOf(values)) : null;
  const diameter = correctReading(bench.job, mean, 'bore');
  const count = { tops: values.length, agreeing: values.length, spread };
  const fact = {
    kind: 'bore-taken',
    diameter,
    standard: null,
    degreesOfFreedom: null,
    ...count,
    how: 'typed',
  } as const;
  return keep(started(bench), fact, bench.readings);
}

/** Doubts that more rocking can lift: the capture goes on, nothing is thrown away. */
const UNFINISHED: ReadonlySet<Doubt['kind']> = new Set([
  'no-readings',
  'not-rocked',
  'too-few-peaks',
  'peak-beyond',
] as const);

function takeRocked(bench: WithJob): Outcome {
  if (!bench.capture) return refuse(bench, { kind: 'no-reading' });
  const verdict = verdictOf(finishCapture(bench.capture));
  const readings = trailOf(bench.trail);
  if (verdict.state === 'steady') {
    const fact = {
      kind: 'bore-taken',
      diameter: correctReading(bench.job, verdict.diameter, 'bore'),
      standard: verdict.standardUncertainty as Length | null,
      degreesOfFreedom: verdict.degreesOfFreedom,
      tops: verdict.peaks,
      agreeing: verdict.agreeing,
      spread: verdict.spread as Length | null,
      how: 'rocked',
    } as const;
    return keep(started(bench), fact, readings);
  }
  if (verdict.state !== 'doubtful') return refuse(bench, { kind: 'no-reading' });
  if (UNFINISHED.has(verdict.reason.kind))
    return refuse(bench, { kind: 'not-agreed', reason: verdict.reason.kind });
  const doubted = { kind: 'capture-doubted', stage: 'bore size', reason: verdict.reason.kind } as const;
  return andThen(keep(started(bench), doubted, readings), (next) =>
    refuse(next, { kind: 'not-agreed', reason: verdict.reason.kind }),
  );
}

function typed(bench: WithJob, text: string): Outcome {
  const parsed = typedReading(bench, text);
  if (!parsed.ok) return badNumber(bench, parsed.found, parsed.accepted);
  if (parsed.value.value <= 0) return badNumber(bench, text, 'a bore above zero');
  return rememberReading({ ...bench, typed: '' }, parsed.value);
}

export const boreRules: StageRules = {
  entered: started,
  onReading: heard,
  take: (bench) => (bench.readings.length > 0 ? takeTyped(bench) : takeRocked(bench)),
  again: (bench) => unchanged(started(bench)),
  typed,
};
