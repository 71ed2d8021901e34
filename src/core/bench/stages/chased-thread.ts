// A thread stage worked by hand: strokes counted by key, the crest's flat typed, the spigot measured over its crests, or only a trial.
import {
  depthAfter,
  depthFromFlat,
  type KnownDepth,
  type StrokesLeft,
  strokesLeft,
} from '../../thread/depth.ts';
import { crestLeft, sharpHeight, tipLoss } from '../../thread/form.ts';
import type { WantedForm } from '../../thread/passes.ts';
import { type Length, mm } from '../../units.ts';
import type { How, KeptReading } from '../entry.ts';
import { type Job, lastStanding } from '../job.ts';
import { ask, badNumber, keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import type { Part, Setup } from '../setup.ts';
import type { Bench } from '../state.ts';
import { chasedDepth, deepestGroove, wantsDiameter } from '../threads.ts';
import { correctReading, heldStill, rememberReading, withTyped } from './readings.ts';
import { resetLive, type StageRules, type WithJob } from './rules.ts';
import { CUT_AGAIN_STEPS } from './spigot.ts';

/** What the screen says of a thread chased by hand. */
export type ChasingState =
  | { readonly kind: 'not-chased' | 'chasing' | 'by-trial' }
  /** The size over the crests was kept, and how deep the thread is below them is not known. */
  | { readonly kind: 'crests-kept' }
  /** The caliper is still on crests that are cut too. */
  | { readonly kind: 'crests-cut'; readonly diameter: Length; readonly spigot: Length }
  /** Measured: certainly short of the plan, as deep as planned within its doubt, certainly deeper. */
  | { readonly kind: 'shallow' | 'full' | 'past'; readonly known: KnownDepth };

export interface Chasing {
  readonly part: Part;
  readonly strokes: number;
  readonly state: ChasingState;
  /** The depth as it is now: measured, or kept by its strokes. */
  readonly known: KnownDepth | null;
  /** The depth after the strokes made since it was measured. */
  readonly about: KnownDepth | null;
  /** Its flat may be gone, and its diameter with it: measure that again. */
  readonly wantsDiameter: boolean;
  /** Strokes left to the planned depth. */
  readonly left: StrokesLeft | null;
  readonly planned: Length;
  /** The flat that the planned depth leaves. */
  readonly flatAtPlan: Length;
}

const formOf = ({ pitch, cutter }: Setup): WantedForm => ({
  pitch: pitch.length,
  angle: cutter.angle,
  tip: cutter.tip,
});

/** The depth by the strokes since the last flat; null where no depth was measured, or the crest may be gone by then. */
function depthByStrokes({ setup, threads }: Job, part: Part): KnownDepth | null {
  const { measured, strokes } = threads[part];
  if (!measured || measured.strokes === 0 || strokes <= measured.strokes) return null;
  const about = depthAfter(measured, strokes);
  const { pitch, angle, tip } = formOf(setup);
  return about.depth + about.within < sharpHeight(pitch, angle) - tipLoss(tip, angle) ? about : null;
}

export function chasingOf(bench: WithJob, part: Part): Chasing {
  const { job } = bench;
  const { pitch, angle, tip } = formOf(job.setup);
  const { strokes, measured } = job.threads[part];
  const planned = job.setup.depth[part];
  const known = chasedDepth(job.threads[part]);
  return {
    part,
    strokes,
    state: stateOf(bench, part, known),
    known,
    about: depthByStrokes(job, part),
    wantsDiameter: wantsDiameter(job.threads[part]),
    left: measured && strokesLeft(measured, strokes, planned),
    planned,
    flatAtPlan: mm(Math.max(0, crestLeft(pitch, planned, tip, angle))),
  };
}

function stateOf(bench: WithJob, part: Part, known: KnownDepth | null): ChasingState {
  const { spigot, threads, setup } = bench.job;
  const { strokes, chased, crestsAt } = threads[part];
  const read = part === 'male' ? crestsRead(bench) : null;
  if (read && spigot) return { kind: 'crests-cut', diameter: read.diameter, spigot: spigot.diameter };
  if (known) {
    const over = known.depth - setup.depth[part];
    if (Math.abs(over) <= known.within) return { kind: 'full', known };
    return { kind: over < 0 ? 'shallow' : 'past', known };
  }
  if (chased && chased.strokes === strokes) return { kind: 'by-trial' };
  if (part === 'male' && spigot?.turned !== undefined && crestsAt === strokes) return { kind: 'crests-kept' };
  return { kind: strokes > 0 ? 'chasing' : 'not-chased' };
}

/** Crests count as cut when they measure as many steps of the caliper smaller than the spigot as a spigot that is cut again. */
const areCut = ({ spigot, setup }: Job, diameter: Length): boolean => {
  const { limitOfError, step } = setup.caliper;
  return spigot !== null && diameter < spigot.diameter - Math.max(CUT_AGAIN_STEPS * step, limitOfError);
};

/** Crests cut to halfway down to the bore would hardly engage: a size as small is rather the bore's, or a slip. Our own choice. */
const isFarOff = ({ spigot, bore }: Job, diameter: Length): boolean =>
  spigot !== null && bore !== null && diameter < (spigot.diameter + bore.diameter) / 2;

interface CrestsRead {
  readonly diameter: Length;
  readonly readings: readonly KeptReading[];
}

/** A steady reading that can be of this spigot's crests. */
function crestsRead(bench: WithJob): CrestsRead | null {
  const { job } = bench;
  const held = heldStill(bench);
  if (!job.spigot || 'kind' in held) return null;
  const diameter = correctReading(job, held.value, 'outside');
  return areCut(job, diameter) && !isFarOff(job, diameter) ? { diameter, readings: held.readings } : null;
}

const keepCrests = (bench: Bench, { diameter, readings }: CrestsRead, how: How): Outcome =>
  keep({ ...bench, readings: [] }, { kind: 'crests-measured', diameter, how }, readings);

/** Kept as it is, and not chased since: neither by strokes, nor after a trial that asked for more. */
function isKept({ threads, trials }: Job, part: Part): boolean {
  const { chased, strokes } = threads[part];
  const last = trials.at(-1);
  return chased !== null && chased.strokes === strokes && (!last || last.reworked);
}

function keepChased(bench: WithJob, part: Part): Outcome {
  const { job } = bench;
  const read = part === 'male' ? crestsRead(bench) : null;
  if (read) return keepCrests(bench, read, 'read');
  if (isKept(job, part)) return unchanged(bench);
  const { strokes } = job.threads[part];
  const about = depthByStrokes(job, part);
  return keep(bench, {
    kind: 'thread-chased',
    part,
    strokes,
    how: about ? 'strokes' : 'trial',
    depth: about?.depth ?? null,
    within: about?.within ?? null,
  });
}

const ACCEPTED = {
  female: 'the flat left on the crest, from 0 to less than a pitch',
  male: 'the flat left on the crest, or the diameter over the crests',
} as const;

/** A size no flat can have is the diameter over the spigot's crests. */
const typed = (bench: WithJob, part: Part, text: string): Outcome =>
  withTyped(bench, text, (reading) => {
    const { setup, threads } = bench.job;
    const flat = reading.value;
    if (part === 'male' && flat > deepestGroove(setup)) return typedCrests(bench, reading);
    const known = depthFromFlat(formOf(setup), flat);
    if (!known) return badNumber(bench, text, ACCEPTED[part]);
    const { strokes } = threads[part];
    return keep(bench, { kind: 'thread-chased', part, strokes, how: 'flat', flat, ...known });
  });

function typedCrests(bench: WithJob, reading: KeptReading): Outcome {
  const { job } = bench;
  if (!job.spigot) return refuse(bench, { kind: 'missing', what: 'spigot' });
  const diameter = correctReading(job, reading.value, 'outside');
  if (!areCut(job, diameter)) return refuse(bench, { kind: 'crests-whole', spigot: job.spigot.diameter });
  const yes = (at: Bench): Outcome => keepCrests(at, { diameter, readings: [reading] }, 'typed');
  const expected = job.spigot.diameter;
  return ask(bench, isFarOff(job, diameter) ? { kind: 'odd-size', found: diameter, expected } : null, yes);
}

/** One stroke more, or the last one of this part taken back. */
export function strokeKeyed(bench: WithJob, part: Part, by: 1 | -1): Outcome {
  if (by > 0) return keep(bench, { kind: 'stroke', part });
  const last = lastStanding(bench.log, (fact) => fact.kind === 'stroke' && fact.part === part);
  return last
    ? keep(bench, { kind: 'undone', entry: last.id }, [], { kind: 'undone', what: 'stroke' })
    : refuse(bench, { kind: 'nothing-to-undo' });
}

export const chasedRules = (part: Part): StageRules => ({
  entered: resetLive,
  onReading: rememberReading,
  keep: (bench) => keepChased(bench, part),
  again: (bench) => strokeKeyed(bench, part, 1),
  typed: (bench, text) => typed(bench, part, text),
});
