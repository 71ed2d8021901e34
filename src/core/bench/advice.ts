// After a trial: what can still be done, on which part, and what each buys; from the geometry, never from habit.
import { type FitWord, fitWord, limitsOf, type WordBounds } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';
import type { Job, TrialMade } from './job.ts';
import type { Part } from './setup.ts';
import { boundsNow, boundsOverRange, expectedOf } from './target.ts';
import { isUnmeasured, pairOf } from './threads.ts';

export type TrialAdvice =
  | { readonly kind: 'runs' }
  /** Loose in the air it was tried in, and right in the worst air of the range that the job is made for. */
  | { readonly kind: 'runs-over-range' }
  /** Deeper by this many detents (null: no feed known) on this part; buys this much diametral clearance. */
  | {
      readonly kind: 'deepen';
      readonly part: Part;
      readonly detents: number | null;
      /** Of a chaser, where strokes were counted up to a measured depth. */
      readonly strokes?: number;
      readonly by: Length;
      readonly buys: Length;
    }
  /** Chased by hand to a depth nobody measured: a few strokes more, then try again. */
  | { readonly kind: 'chase' }
  /** Only crests touch: sand them. */
  | { readonly kind: 'relieve-crests'; readonly part: Part }
  /** A plain lid is eased by turning or sanding the spigot. */
  | { readonly kind: 'ease'; readonly by: Length }
  /** Nothing takes clearance away again. */
  | { readonly kind: 'leave' }
  /** The crest would be eaten before it runs. */
  | { readonly kind: 'no-more'; readonly part: Part };

/** Without a feed the advice is a depth, rounded to this step; our own choice. */
const BY_HAND = mm(0.05);
/** The most detents in one rework; beyond that the lid is better made again. Our own choice. */
const DETENTS_AT_MOST = 6;

const steps = (job: Job): Length => job.setup.feed?.perDetent ?? BY_HAND;

/** The end of a range of clearances doesn't belong to it, even if rounding says so. */
const LAST_BIT = 1e-9;

/** Clearance gained by cutting one part deeper, or null when no such groove can be cut. */
function boughtBy(job: Job, bore: Length, part: Part, by: Length): Length | null {
  const pair = pairOf(job, bore);
  const before = limitsOf(pair);
  const after = limitsOf({ ...pair, [part]: { ...pair[part], depth: mm(pair[part].depth + by) } });
  if (before.kind !== 'limits' || after.kind !== 'limits') return null;
  return mm(after.limit - before.limit);
}

/**
 * What the verdict says of the clearance now: the computed one, moved into the range that the word means in the air it was
 * tried in; a tight pair has half of what runs at most.
 */
function clearanceNow(job: Job, verdict: FitWord): number {
  const expected = job.spigot ? expectedOf(job, job.spigot) : null;
  const computed = expected?.kind === 'expected' ? expected.clearance : 0;
  const { seizedBelow = 0, runningFrom, looseFrom } = boundsNow(job);
  switch (verdict) {
    case 'seized':
      return Math.min(computed, seizedBelow);
    case 'tight':
      return Math.min(computed, runningFrom / 2, runningFrom - LAST_BIT);
    case 'running':
      return Math.max(runningFrom, Math.min(computed, looseFrom - LAST_BIT));
    case 'loose':
      return Math.max(computed, looseFrom);
    default:
      return verdict satisfies never;
  }
}

/** The fewest detents on one part that bring the pair into running without passing into loose. */
function deepen(job: Job, bore: Length, part: Part, now: number, wanted: WordBounds): TrialAdvice | null {
  const step = steps(job);
  for (let detents = 1; detents <= DETENTS_AT_MOST; detents++) {
    const by = mm(detents * step);
    const buys = boughtBy(job, bore, part, by);
    if (buys === null) return { kind: 'no-more', part };
    if (now + buys >= wanted.runningFrom)
      return {
        ...{ kind: 'deepen', part, by, buys, detents: job.setup.feed ? detents : null },
        ...strokesFor(job, part, by),
      };
  }
  return null;
}

function strokesFor({ threads }: Job, part: Part, by: Length): { readonly strokes?: number } {
  const { measured } = threads[part];
  return measured && measured.strokes > 0
    ? { strokes: Math.ceil((by * measured.strokes) / measured.depth) }
    : {};
}

/** All that would help, the best first. A pair limited at its roots gets its crests relieved before anything is cut. */
export function adviceOn(job: Job): readonly TrialAdvice[] {
  const last = job.trials.at(-1);
  if (!last || last.reworked) return [];
  if (isUnmeasured(job)) return byTrial(last);
  const wanted = boundsOverRange(job);
  const now = clearanceNow(job, last.verdict);
  const word = fitWord(mm(now), wanted);
  if (word === 'running') return [{ kind: last.verdict === 'running' ? 'runs' : 'runs-over-range' }];
  if (word === 'loose' || !job.bore) return [{ kind: 'leave' }];
  if (job.setup.fit === 'plain') return [{ kind: 'ease', by: mm(job.setup.bounds.runningFrom) }];
  const bore = job.bore.diameter;
  const binds = last.verdict === 'seized' || last.verdict === 'tight';
  const crests = binds && !last.relieved ? crestsFirst(job, bore) : [];
  // The spigot's thread is easier to reach, so it comes first if both would do.
  const cuts = (['male', 'female'] as const).flatMap((part) => deepen(job, bore, part, now, wanted) ?? []);
  return [
    ...crests,
    ...cuts.filter(({ kind }) => kind === 'deepen'),
    ...cuts.filter(({ kind }) => kind === 'no-more'),
  ];
}

/** Of threads with an unmeasured depth, only the verdict is known. */
function byTrial({ verdict, relieved }: TrialMade): readonly TrialAdvice[] {
  if (verdict === 'running') return [{ kind: 'runs' }];
  if (verdict === 'loose') return [{ kind: 'leave' }];
  return [{ kind: 'chase' }, ...(relieved ? [] : [{ kind: 'relieve-crests', part: 'male' } as const])];
}

/** Diametral: within this of the flank limit a crest that is raised or swollen touches first; our own choice. */
const NEARLY = 0.1;

/** Crest contact is likely where crests or their corners touch before the flanks, or hardly after them. */
function crestsFirst(job: Job, bore: Length): readonly TrialAdvice[] {
  const limits = limitsOf(pairOf(job, bore));
  if (limits.kind !== 'limits') return [];
  return Math.min(limits.root, limits.corner) - limits.flank < NEARLY
    ? [{ kind: 'relieve-crests', part: 'male' }]
    : [];
}
