// Bore size: the rocked maximum, agreed between rocks or refused with its reason; typed values where there is no line.
import {
  addReading,
  type Capture,
  type Doubt,
  defaultSettings,
  finishCapture,
  startCapture,
  verdictOf,
} from '../../measure/rocking.ts';
import { type Length, mm } from '../../units.ts';
import { captureSettings, corrected } from '../correct-reading.ts';
import type { KeptReading } from '../entry.ts';
import { andThen, becomes, kept, type Outcome, refused, sounding, unchanged } from '../outcome.ts';
import { TRAIL_AT_MOST, type Trail } from '../state.ts';
import { typedReading } from '../typed-reading.ts';
import { badNumber, fresh, listening, type StageRules, type WithJob } from './rules.ts';

/** The chain of raw readings as a list, oldest first. */
export function trailOf(trail: Trail | null): readonly KeptReading[] {
  const readings: KeptReading[] = [];
  for (let link = trail; link; link = link.before) readings.push(link.reading);
  return readings.reverse();
}

const started = (bench: WithJob): WithJob => ({
  ...fresh(bench),
  capture: startCapture(captureSettings(bench.job, defaultSettings('bore'))),
});

/** A caliper that lay idle for long has filled the capture with nothing: it begins anew. One that agreed stands as it is. */
function heard(bench: WithJob, reading: KeptReading): Outcome {
  if (!bench.capture) return unchanged(bench);
  if ((bench.trail?.count ?? 0) < TRAIL_AT_MOST) return listened(bench, bench.capture, reading);
  if (verdictOf(bench.capture).state === 'agreed') return unchanged(bench);
  return listened(bench, startCapture(bench.capture.settings), reading, null);
}

function listened(bench: WithJob, before: Capture, reading: KeptReading, trailed = bench.trail): Outcome {
  const capture = addReading(before, reading);
  const trail = { reading, before: trailed, count: (trailed?.count ?? 0) + 1 };
  const next = becomes(bench, { capture, trail });
  const agreedNow = verdictOf(before).state !== 'agreed' && verdictOf(capture).state === 'agreed';
  return agreedNow ? andThen(next, (at) => sounding({ ...at, notice: null }, 'agreed')) : next;
}

/** Typed values: their mean, their number, their spread. */
function takeTyped(bench: WithJob): Outcome {
  const values = bench.heard.map((reading) => reading.value);
  const mean = mm(values.reduce((sum, value) => sum + value, 0) / values.length);
  const spread = values.length > 1 ? mm(Math.max(...values) - Math.min(...values)) : null;
  const diameter = corrected(bench.job, mean, 'bore');
  const count = { tops: values.length, agreeing: values.length, spread };
  const fact = {
    kind: 'bore-taken',
    diameter,
    standard: null,
    degreesOfFreedom: null,
    ...count,
    how: 'typed',
  } as const;
  return kept(started(bench), fact, bench.heard);
}

/** Doubts that more rocking can lift: the capture goes on, nothing is thrown away. */
const UNFINISHED: ReadonlySet<Doubt['kind']> = new Set([
  'no-readings',
  'not-rocked',
  'too-few-tops',
  'top-beyond',
] as const);

function takeRocked(bench: WithJob): Outcome {
  if (!bench.capture) return refused(bench, { kind: 'no-reading' });
  const verdict = verdictOf(finishCapture(bench.capture));
  const readings = trailOf(bench.trail);
  if (verdict.state === 'agreed') {
    const fact = {
      kind: 'bore-taken',
      diameter: corrected(bench.job, verdict.diameter, 'bore'),
      standard: verdict.standardUncertainty as Length | null,
      degreesOfFreedom: verdict.degreesOfFreedom,
      tops: verdict.tops,
      agreeing: verdict.agreeing,
      spread: verdict.spread as Length | null,
      how: 'rocked',
    } as const;
    return kept(started(bench), fact, readings);
  }
  if (verdict.state !== 'doubtful') return refused(bench, { kind: 'no-reading' });
  if (UNFINISHED.has(verdict.reason.kind))
    return refused(bench, { kind: 'not-agreed', reason: verdict.reason.kind });
  const doubted = { kind: 'capture-doubted', stage: 'bore size', reason: verdict.reason.kind } as const;
  return andThen(kept(started(bench), doubted, readings), (next) =>
    refused(next, { kind: 'not-agreed', reason: verdict.reason.kind }),
  );
}

function typed(bench: WithJob, text: string): Outcome {
  const parsed = typedReading(bench, text);
  if (!parsed.ok) return badNumber(bench, parsed.found, parsed.accepted);
  if (parsed.value.value <= 0) return badNumber(bench, text, 'a bore above zero');
  return listening({ ...bench, typed: '' }, parsed.value);
}

export const bore: StageRules = {
  entered: started,
  heard,
  take: (bench) => (bench.heard.length > 0 ? takeTyped(bench) : takeRocked(bench)),
  again: (bench) => unchanged(started(bench)),
  typed,
};
