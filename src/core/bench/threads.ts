// Both threads of a job as cut so far, and how far its bore and spigot are from round and parallel.
import { counted, lengthFigure, withDoubt } from '../figures.ts';
import type { Contribution } from '../measure/uncertainty.ts';
import { ONE_READING } from '../measure/uncertainty.ts';
import { isPointed, type KnownDepth } from '../thread/chased.ts';
import { wideningOf } from '../thread/milling.ts';
import { taperOf, tightestWidth } from '../thread/out-of-true.ts';
import type { Pair, Part } from '../thread/pair.ts';
import { type Length, type LengthUnit, mm } from '../units.ts';
import type { Chased, Job, Thread } from './job.ts';

/** The depth really cut, or the planned one before the cut and where nobody measured it. */
export const cutDepth = ({ threads, setup }: Job, part: Part): Length =>
  threads[part].cut?.depth ?? threads[part].chased?.depth ?? setup.depth[part];

/** The depth of a thread chased by hand, as it is now; null where strokes were made since, or nothing measured it. */
export function chasedDepth({ chased, strokes }: Thread): KnownDepth | null {
  if (!chased || chased.strokes !== strokes) return null;
  const { depth, within } = chased;
  return depth !== null && within !== null ? { depth, within } : null;
}

/** How deep a thread chased by hand is, and what says so. */
export function chasedText({ strokes, how, depth, within, flat }: Chased, unit: LengthUnit): string {
  const made = strokes === 0 ? '' : `, ${counted(strokes, 'stroke')}`;
  if (depth === null || within === null) return `by trial, depth not measured${made}`;
  const by = flat === undefined ? `by ${how}` : `by a flat of ${lengthFigure(flat, unit)}`;
  return `${withDoubt(depth, within, unit)} deep, ${by}${made}`;
}

/** A crest that came to a point has another diameter than before: until that is measured, its depth is below nobody knows what. */
function isMeasured(thread: Thread): boolean {
  const { chased, strokes, crestsAt } = thread;
  if (chasedDepth(thread) === null) return false;
  return chased?.flat === undefined || !isPointed(chased.flat) || crestsAt === strokes;
}

/** Its crest may have come to a point since its diameter was measured. */
export const wantsDiameter = (thread: Thread): boolean => chasedDepth(thread) !== null && !isMeasured(thread);

/** Nothing can be said of the fit before the trial: a thread is chased by hand, and not measured as it is. */
export const isUnmeasured = ({ setup, threads }: Job): boolean =>
  setup.byHand === true &&
  setup.fit === 'threaded' &&
  !(isMeasured(threads.female) && isMeasured(threads.male));

/** Both threads as cut so far; a groove not yet cut stands at its planned depth. */
export function pairOf(job: Job, bore: Length): Pair {
  const { setup } = job;
  const groove = (part: Part) => {
    const depth = cutDepth(job, part);
    const widening = setup.cutter.diameter && !setup.byHand ? wideningOf(setup, part, bore, depth) : mm(0);
    return { depth, tip: setup.cutter.tip, widening };
  };
  return {
    pitch: setup.pitch.length,
    starts: setup.starts,
    angle: setup.cutter.angle,
    female: groove('female'),
    male: groove('male'),
  };
}

/** What the clearance loses against bore less spigot as measured, where the parts are not true, and what that leaves in doubt. */
export interface OutOfTrue {
  readonly loss: Length;
  readonly doubts: readonly Contribution[];
}

const doubtful = (name: string, standard: number): Contribution => ({
  name,
  standard,
  sensitivity: 1,
  degreesOfFreedom: Number.POSITIVE_INFINITY,
});

/** Two readings make a taper, each as good as one reading is. */
const TAPER_DOUBT = Math.SQRT2 * ONE_READING;

function taperIn({ mouth, depth }: Job): OutOfTrue {
  const loss = mouth && depth ? taperOf(mouth.diameter, depth.diameter).tightens : mm(0);
  return { loss, doubts: loss > 0 ? [doubtful('taper of the bore', TAPER_DOUBT)] : [] };
}

function ovalIn(job: Job, part: Part): OutOfTrue {
  const measured = part === 'female' ? job.bore : job.spigot;
  if (!measured || measured.across === undefined) return { loss: mm(0), doubts: [] };
  const { width, standard } = tightestWidth(part, measured.diameter, measured.across);
  const name = `ovality of the ${part === 'female' ? 'bore' : 'spigot'}`;
  return { loss: mm(Math.abs(measured.diameter - width)), doubts: [doubtful(name, standard)] };
}

/** Taper of the bore, and both parts' ovality in the worst turn of the lid. */
export function outOfTrue(job: Job): OutOfTrue {
  const all = [taperIn(job), ovalIn(job, 'female'), ovalIn(job, 'male')];
  return {
    loss: mm(all.reduce((so, { loss }) => so + loss, 0)),
    doubts: all.flatMap(({ doubts }) => doubts),
  };
}
