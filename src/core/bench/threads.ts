// Both threads of a job: as deep as they are planned, and as cut so far.
import { counted, lengthFigure, withDoubt } from '../figures.ts';
import type { Pitch } from '../quantity.ts';
import { isPointed, type KnownDepth } from '../thread/depth.ts';
import { limitsOf } from '../thread/fit.ts';
import { crestLeft } from '../thread/form.ts';
import { wideningOf } from '../thread/milling.ts';
import type { Pair, Part } from '../thread/pair.ts';
import { planPasses, wantedDepth } from '../thread/passes.ts';
import { type Length, type LengthUnit, mm } from '../units.ts';
import type { Chased, Job, Thread } from './job.ts';
import type { Cutter, KitFeed, Setup } from './setup.ts';

/** No groove of a thread is deeper, radially, than two of its pitches; our own choice, well beyond any crest. */
export const deepestGroove = ({ pitch }: Setup): Length => mm(2 * pitch.length);

/** Pitches are the same that differ by less than anybody can set. */
const SAME = 1e-6;

/** What detents proven at this pitch cut; undefined where none are, or where this cutter would leave no crest so deep. */
function provenDepth(pitch: Pitch, cutter: Cutter, { perDetent, proven = [] }: KitFeed): Length | undefined {
  const known = proven.find((one) => Math.abs(one.pitch.length - pitch.length) < SAME);
  const depth = known && mm(known.detents * perDetent);
  return depth && crestLeft(pitch.length, depth, cutter.tip, cutter.angle) > 0 ? depth : undefined;
}

/** The depth a new job is planned at: what is proven on this feed, else the deepest ordinary profile in whole detents. */
export function planDepth(pitch: Pitch, cutter: Cutter, feed: KitFeed | undefined): Length {
  const of = { pitch: pitch.length, angle: cutter.angle, tip: cutter.tip, profile: 'deepest' } as const;
  if (!feed) return wantedDepth(of);
  const proven = provenDepth(pitch, cutter, feed);
  if (proven !== undefined) return proven;
  const passes = planPasses({ ...of, starts: 1, feedPerDetent: feed.perDetent, harden: false });
  return passes.kind === 'passes' ? passes.depth : wantedDepth(of);
}

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

/** Both threads as cut so far; a groove not cut yet counts at its planned depth. */
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

/** Millimetres: less than this is nothing still to cut, and nothing too deep. Our own choice: half of what a caliper shows. */
const LEAST_LEFT = 0.005;

/** What is left to the planned depth; below zero where the thread is deeper. */
export function leftToCut({ setup }: Job, part: Part, depth: Length): Length {
  const left = setup.depth[part] - depth;
  return mm(Math.abs(left) > LEAST_LEFT ? left : 0);
}

/** The limit of the pair once a thread is as deep as planned, or as it is now if that is deeper; null if nothing limits it. */
export function limitOnceCut(job: Job, bore: Length, part: Part, depth: Length): Length | null {
  const pair = pairOf(job, bore);
  const deeper = mm(Math.max(pair[part].depth, depth));
  const limits = limitsOf({ ...pair, [part]: { ...pair[part], depth: deeper } });
  return limits.kind === 'limits' ? limits.limit : null;
}
