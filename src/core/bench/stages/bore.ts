// Bore size: the rocked maximum, agreed between rocks or refused with its reason; typed readings where no board reads.
import { addReading, type Capture, finishCapture, peaksOf, startCapture } from '../../measure/capture.ts';
import { meanDoubt } from '../../measure/uncertainty.ts';
import { type Doubt, verdictOf } from '../../measure/verdict.ts';
import { extentOf, meanOf } from '../../statistics.ts';
import { type Length, mm } from '../../units.ts';
import type { KeptReading } from '../entry.ts';
import type { Bore } from '../job.ts';
import {
  andThen,
  ask,
  badNumber,
  becomes,
  keep,
  type Outcome,
  refuse,
  sounding,
  unchanged,
} from '../outcome.ts';
import { type Bench, type Place, TRAIL_AT_MOST, type Trail } from '../state.ts';
import { boreSettings, correctReading, oddBore, oddShape, rememberReading, withTyped } from './readings.ts';
import { nextPlace, resetLive, type StageRules, type WithJob } from './rules.ts';

/** The chain of raw readings as a list, oldest first. */
function trailOf(trail: Trail | null): readonly KeptReading[] {
  const readings: KeptReading[] = [];
  for (let link = trail; link; link = link.before) readings.push(link.reading);
  return readings.reverse();
}

const started = (bench: WithJob, place: Place = 'first'): WithJob => ({
  ...resetLive(bench),
  place,
  capture: startCapture(boreSettings(bench.job.setup.measuring)),
});

/** A caliper that lay idle for long has filled the capture with nothing, so it starts over; a steady one is kept. */
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

/** What typed readings say together. */
export interface TypedBore {
  readonly mean: Length;
  readonly spread: Length;
  readonly allowed: Length;
  readonly agrees: boolean;
  readonly scatter: ReturnType<typeof meanDoubt>;
}

/** Typed readings must agree as rocked ones do; null before the first. */
export function typedBore({ job, readings }: Pick<WithJob, 'job' | 'readings'>): TypedBore | null {
  if (readings.length === 0) return null;
  const values = readings.map(({ value }) => value);
  const mean = meanOf(values);
  const spread = mm(extentOf(values));
  const { tolerance } = boreSettings(job.setup.measuring);
  const allowed = mm(Math.max(tolerance, 2 * job.setup.caliper.step));
  return {
    mean: correctReading(job, mm(mean), 'bore'),
    spread,
    allowed,
    agrees: spread <= allowed * (1 + 1e-9),
    scatter: meanDoubt(values),
  };
}

function keepTyped(bench: WithJob, { mean, spread, allowed, agrees, scatter }: TypedBore): Outcome {
  if (!agrees) return refuse(bench, { kind: 'readings-disagree', spread, allowed });
  const { length } = bench.readings;
  const measured = {
    kind: 'bore-taken',
    diameter: mean,
    standard: mm(scatter.standard),
    degreesOfFreedom: length > 1 ? scatter.degreesOfFreedom : null,
    tops: length,
    agreeing: length,
    spread: length > 1 ? spread : null,
    how: 'typed',
  } as const;
  return keepMeasured(bench, measured, bench.readings);
}

/** A second size of the bore is kept with the first; one that can hardly be of the same bore is asked about. */
function keepMeasured(bench: WithJob, measured: Bore, readings: readonly KeptReading[]): Outcome {
  const { bore } = bench.job;
  if (bench.place === 'first' || !bore) return keep(started(bench), measured, readings);
  const { diameter: across, standard } = measured;
  const fact = { ...bore, across, ...(standard === null ? {} : { acrossStandard: standard }) };
  const yes = (at: Bench): Outcome => keep(started({ ...at, job: bench.job }), fact, readings);
  return ask(bench, oddShape(across, bore.diameter), yes);
}

/** Doubts that more rocking can lift: the capture goes on, nothing is thrown away. */
const UNFINISHED: ReadonlySet<Doubt['kind']> = new Set([
  'no-readings',
  'not-rocked',
  'too-few-peaks',
  'peak-beyond',
  'held-off',
] as const);

function keepRocked(bench: WithJob): Outcome {
  if (!bench.capture) return refuse(bench, { kind: 'no-reading' });
  const verdict = verdictOf(finishCapture(bench.capture));
  const readings = trailOf(bench.trail);
  if (verdict.state === 'steady') {
    const measured = {
      kind: 'bore-taken',
      diameter: correctReading(bench.job, verdict.diameter, 'bore'),
      standard: verdict.standardUncertainty as Length | null,
      degreesOfFreedom: verdict.degreesOfFreedom,
      tops: verdict.peaks,
      agreeing: verdict.agreeing,
      spread: verdict.spread as Length | null,
      how: 'rocked',
    } as const;
    return keepMeasured(bench, measured, readings);
  }
  if (verdict.state !== 'doubtful') return refuse(bench, { kind: 'no-reading' });
  if (UNFINISHED.has(verdict.reason.kind))
    return refuse(bench, { kind: 'not-agreed', reason: verdict.reason.kind });
  const doubted = { kind: 'capture-doubted', stage: 'bore size', reason: verdict.reason.kind } as const;
  return andThen(keep(started(bench, bench.place), doubted, readings), (next) =>
    refuse(next, { kind: 'not-agreed', reason: verdict.reason.kind }),
  );
}

const typed = (bench: WithJob, text: string): Outcome =>
  withTyped(bench, text, (reading) => {
    const { value } = reading;
    if (value <= 0) return badNumber(bench, text, 'a bore above zero');
    const known = bench.place === 'first' ? undefined : bench.job.bore?.diameter;
    const expected = known ?? bench.job.setup.plannedBore ?? null;
    const accept = (): Outcome =>
      rememberReading({ ...bench, typed: '', notice: null }, reading, bench.lifted?.at);
    return ask(bench, oddBore(value, expected), accept);
  });

/** What again measures: once a bore is kept, a quarter turn from it. */
export function nextBoreSize(bench: WithJob): Place {
  const begun = bench.readings.length > 0 || (bench.capture !== null && peaksOf(bench.capture).length > 0);
  return nextPlace(bench, begun, bench.job.bore ? ['first', 'across'] : ['first']);
}

export const boreRules: StageRules = {
  entered: (bench) => started(bench),
  onReading: heard,
  keep(bench) {
    const typedOnes = typedBore(bench);
    return typedOnes ? keepTyped(bench, typedOnes) : keepRocked(bench);
  },
  again: (bench) => unchanged(started(bench, nextBoreSize(bench))),
  typed,
};
