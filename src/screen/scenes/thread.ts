// Both thread stages: detents to go, depth so far and whether it is proven, the groove as it is cut, and when to harden.
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import {
  type Cutting,
  type CuttingState,
  cuttingOf,
  cuttingState,
  isDepthKept,
  isFeedUnused,
  loosening,
} from '../../core/bench/stages/fed-thread.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { leftToCut, limitOnceCut, pairOf } from '../../core/bench/threads.ts';
import { counted, lengthFigure, withDoubt } from '../../core/figures.ts';
import { type Pair, partWord } from '../../core/thread/pair.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { countingKeys, threadKeys, typedDepthKeys } from '../keymap.ts';
import type { SectionModel } from '../panels/section.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import { byKind, VOID_WORDS } from '../words.ts';
import { aimFor, bigLength, doubtFor, factsFrom, type StageScene, standingLine } from './scene-parts.ts';

export function threadScene(bench: WithJob, part: Part): StageScene {
  const { job } = bench;
  const cutting = cuttingOf(bench, part);
  const { touchOff } = job.threads[part];
  const counts = touchOff !== null && touchOff.board === undefined && cutting.tracker !== null;
  const does = cutting.tracker?.kind === 'tracking' ? (cutting.hardening ? 'hardened' : 'keep') : 'touch off';
  return {
    big: bigOf(bench, cutting),
    standing: standingOf(cuttingState(bench, cutting), bench, cutting),
    facts: factsOf(bench, cutting),
    panel: { kind: 'section', ...sectionFor(job, part, cutting.depth) },
    next: nextStep(bench, cutting, counts),
    ...(cutting.hardening && { caution: CAUTIONS.glue }),
    keys: counts ? countingKeys(does) : job.setup.feed ? threadKeys(does) : typedDepthKeys,
  };
}

function bigOf({ job, unit }: WithJob, { wanted, done, tracker, part }: Cutting): Big {
  const cut = job.threads[part].cut;
  if (wanted === null || (tracker === null && cut))
    return cut
      ? bigLength(cut.depth, unit, 'depth, as cut', 'good')
      : bigLength(job.setup.depth[part], unit, 'depth to cut, radial', 'value');
  if (tracker?.kind === 'void') return { text: '--', unit: '', label: 'the count is lost', style: 'quiet' };
  const toGo = wanted - done;
  const style =
    tracker === null ? 'value' : toGo > 1 ? 'value' : toGo === 1 ? 'near' : toGo === 0 ? 'at' : 'past';
  const label = toGo < 0 ? 'over the planned depth' : tracker === null ? 'from touch-off' : 'to go';
  return { text: String(Math.abs(toGo)), unit: Math.abs(toGo) === 1 ? 'detent' : 'detents', label, style };
}

const deep = (depth: Length, unit: LengthUnit): string => `${lengthFigure(depth, unit)} deep`;

const standingOf = byKind<CuttingState, Standing, [bench: WithJob, cutting: Cutting]>({
  'no-feed': standingLine(
    MARKS.alert,
    'FEED NOT SET UP',
    'the board counts a feed, but this job has none',
    'near',
  ),
  void: ({ why }) => standingLine(MARKS.cross, 'DEPTH VOID', VOID_WORDS[why], 'bad'),
  kept: ({ depth }, { unit }) => standingLine(MARKS.full, 'KEPT', deep(depth, unit), 'good'),
  'not-touched': (_, { job }) =>
    job.setup.feed
      ? standingLine(MARKS.open, 'NOT TOUCHED OFF', 'nothing counted yet', 'quiet')
      : standingLine(MARKS.open, 'NOT CUT YET', 'this job has no feed: the depth is typed', 'quiet'),
  uncounted: standingLine(MARKS.open, 'TOUCHED OFF', 'nothing counted yet', 'quiet'),
  unproven({ detents }) {
    const about = `turned back: ${counted(detents, 'detent')} deeper will confirm it`;
    return standingLine(MARKS.stale, 'NOT PROVEN', about, 'near');
  },
  touched: standingLine(MARKS.half, 'TOUCHED OFF', 'nothing cut yet', 'plain'),
  harden: standingLine(MARKS.alert, 'HARDEN NOW', 'one detent left for the finish', 'caution'),
  'too-deep': (_, bench, cutting) => standingLine(MARKS.under, 'TOO DEEP', overshoot(bench, cutting), 'past'),
  'full-depth': (_, { unit }, { depth }) =>
    standingLine(MARKS.full, 'FULL DEPTH', lengthFigure(depth, unit), 'at'),
  'last-detent': standingLine(MARKS.half, 'LAST DETENT', 'the finishing pass', 'near'),
  cutting: (_, { unit }, { depth }) => standingLine(MARKS.half, 'CUTTING', deep(depth, unit), 'plain'),
});

/** What a groove too deep does to the fit, and what still helps. */
function overshoot({ job, unit }: WithJob, cutting: Cutting): string {
  const gained = job.bore && loosening(job, job.bore.diameter, cutting);
  const more = gained === null ? 'looser fit' : `fit ${lengthFigure(gained, unit)} looser`;
  return cutting.part === 'female' && !job.spigot ? `${more}; target allows for it` : more;
}

const ofPlan = (past: boolean, reached: string | number, planned: string): string =>
  past ? `${reached}, planned ${planned}` : `${reached} of ${planned}`;

function factsOf({ job, unit }: WithJob, { wanted, done, depth, part, tracker }: Cutting): readonly Figure[] {
  const { cutter, depth: depths } = job.setup;
  const planned = lengthFigure(depths[part], unit);
  const detents = wanted === null ? null : counted(wanted, 'detent');
  if (tracker?.kind === 'void') return factsFrom({ planned: detents, depth: planned });
  const left = leftToCut(job, part, depth);
  return factsFrom({
    done: detents && ofPlan(done > (wanted ?? done), done, detents),
    depth: ofPlan(left < 0, lengthFigure(depth, unit), planned),
    left: tracker && left > 0 ? lengthFigure(left, unit) : null,
    clearance: clearanceWords(job, part, depth, unit),
    'cutter at most': cutter.topSpeed === undefined ? null : `${cutter.topSpeed} turns a minute`,
  });
}

/** No finer than it is known. */
function clearanceWords(job: Job, part: Part, depth: Length, unit: LengthUnit): string | null {
  const clearance = clearanceOnceCut(job, part, depth);
  const doubt = doubtFor(job);
  if (clearance === null) return null;
  return doubt ? withDoubt(clearance, mm(doubt.expanded95), unit) : lengthFigure(clearance, unit);
}

function nextStep(bench: WithJob, cutting: Cutting, counts: boolean): string {
  const { tracker, wanted, done, hardening, part } = cutting;
  const thread = bench.job.threads[part];
  if (tracker?.kind === 'void')
    return 'Feed in until the cutter just marks the wood, then press Enter to touch off again.';
  if (tracker === null) return untracked(bench, part);
  if (hardening)
    return "Soak the thread with thin cyanoacrylate and let it cure. Press Enter when it's hard.";
  if (isDepthKept(thread, cutting))
    return `Press n for the ${part === 'female' ? 'bore size' : 'trial'}. Feed deeper and press Enter to keep that instead.`;
  if (wanted !== null && done >= wanted)
    return `Run the cutter clear, then press Enter to keep the depth${thread.cut ? ' instead of the last one' : ''}.`;
  const slack = tracker.slide - tracker.count;
  if (slack > 0)
    return `Turned back: feed ${counted(slack, 'detent')} deeper to take up the slack, then carry on.`;
  const detents = counts ? 'Feed one detent, press +, and cut' : 'Feed one detent and cut';
  if (wanted !== null && done === wanted - 1) return `${detents}: the finishing pass, slowly.`;
  const end = part === 'male' ? 'shoulder stop' : 'runout groove';
  return `${detents} to the ${end}; back off, return, feed again.`;
}

function untracked(bench: WithJob, part: Part): string {
  const { job, feed } = bench;
  const { touchOff, cut } = job.threads[part];
  if (!cut && isFeedUnused(bench))
    return 'Press k to set up the feed with two questions. Or cut it and type the depth.';
  if (cut)
    return job.setup.feed
      ? 'Press n to go on. To cut deeper, press Enter to touch off again.'
      : 'Press n to go on. If you cut deeper, type the new depth.';
  if (touchOff || !job.setup.feed)
    return `Cut the ${partWord(part)}'s thread, then type the depth and press Enter.`;
  return feed
    ? 'With the cutter turning, feed in until it just marks the wood, then press Enter.'
    : 'Feed in until the cutter just marks the wood and press Enter. Or cut it and type the depth.';
}

/** The pair as planned; without a bore the cutter's widening is not known and left out. */
function plannedPair(job: Job): Pair {
  const bore = job.bore?.diameter ?? job.setup.plannedBore;
  if (bore !== undefined) return pairOf(job, bore);
  const { pitch, starts, cutter, depth } = job.setup;
  const groove = (part: Part) => ({ depth: depth[part], tip: cutter.tip });
  return { pitch: pitch.length, starts, angle: cutter.angle, female: groove('female'), male: groove('male') };
}

/** Spigot less bore, as kept or as aimed at; null where only one part is drawn. */
function allowanceFor(job: Job, part: Part): Length | null {
  if (part === 'female' || !job.bore) return null;
  const aim = aimFor(job);
  const spigot = job.spigot?.diameter ?? (aim.kind === 'aim' ? aim.target : null);
  return spigot === null ? null : mm(spigot - job.bore.diameter);
}

const PARTS = { female: 'wood solid', male: 'bore solid, spigot grey' } as const;

/** What the drawing shows: of a void depth only the plan. */
export function sectionFor(job: Job, part: Part, depth: Length): SectionModel {
  const allowance = allowanceFor(job, part);
  const unknown = job.threads[part].tracker?.kind === 'void' || (job.setup.byHand && depth === 0);
  const dots = unknown ? 'dots: as planned' : 'dots: uncut';
  return {
    planned: plannedPair(job),
    cut: depth,
    cutting: part,
    allowance,
    notes: [
      PARTS[allowance === null ? 'female' : 'male'],
      ...(leftToCut(job, part, depth) > 0 ? [dots] : []),
    ],
  };
}

/** The clearance once both threads are as deep as planned, or as they are now if that is deeper. */
function clearanceOnceCut(job: Job, part: Part, depth: Length): Length | null {
  const allowance = allowanceFor(job, part);
  const limit = allowance === null || !job.bore ? null : limitOnceCut(job, job.bore.diameter, part, depth);
  return limit === null ? null : mm(limit - (allowance ?? 0));
}
