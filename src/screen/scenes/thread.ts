// Both thread stages: detents to go, depth so far and whether it is proven, the groove as it is cut, and when to harden.
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import {
  type Cutting,
  cuttingOf,
  cuttingState,
  isDepthKept,
  isFeedUnused,
  loosening,
} from '../../core/bench/stages/thread.ts';
import type { Bench } from '../../core/bench/state.ts';
import { counted, lengthFigure } from '../../core/figures.ts';
import { partWord } from '../../core/thread/pair.ts';
import { type Length, mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { countingKeys, threadKeys, typedDepthKeys } from '../key-table.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import { voidWords } from '../words.ts';
import { bigLength, bigNothing, standingLine } from './scene-parts.ts';
import { chasedScene } from './thread-by-hand.ts';
import { clearanceFact, sectionFor } from './thread-section.ts';

export function threadScene(bench: Bench, job: Job, part: Part): Scene {
  if (job.setup.byHand) return chasedScene(bench, job, part);
  const cutting = cuttingOf({ ...bench, job }, part);
  const counts =
    job.threads[part].touchOff !== null &&
    job.threads[part].touchOff.board === undefined &&
    cutting.tracker !== null;
  const does = cutting.tracker?.kind === 'tracking' ? (cutting.hardening ? 'hardened' : 'keep') : 'touch off';
  return {
    title: part === 'female' ? 'bore thread' : 'spigot thread',
    big: bigOf(bench, job, cutting),
    standing: standingOf(bench, job, cutting),
    facts: factsOf(bench, job, cutting),
    panel: { kind: 'section', section: sectionFor(job, cutting.part, cutting.depth) },
    next: nextStep(bench, job, cutting, counts),
    caution: cutting.hardening ? CAUTIONS.glue : cautionAt['bore thread'],
    keys: counts ? countingKeys(does) : job.setup.feed ? threadKeys(does) : typedDepthKeys,
    typing: null,
  };
}

function bigOf(bench: Bench, job: Job, { wanted, done, tracker, part }: Cutting): Big {
  const cut = job.threads[part].cut;
  if (wanted === null || (tracker === null && cut))
    return cut
      ? bigLength(cut.depth, bench.unit, 'depth, as cut', 'good')
      : bigLength(job.setup.depth[part], bench.unit, 'depth to cut, radial', 'value');
  if (tracker?.kind === 'void')
    return { ...bigNothing(bench.unit, 'the count is lost'), text: '--', unit: '' };
  const toGo = wanted - done;
  const style =
    tracker === null ? 'value' : toGo > 1 ? 'value' : toGo === 1 ? 'near' : toGo === 0 ? 'at' : 'past';
  const label = toGo < 0 ? 'over the planned depth' : tracker === null ? 'from touch-off' : 'to go';
  return { text: String(Math.abs(toGo)), unit: Math.abs(toGo) === 1 ? 'detent' : 'detents', label, style };
}

function standingOf(bench: Bench, job: Job, cutting: Cutting): Standing {
  const deep = (depth: Length): string => `${lengthFigure(depth, bench.unit)} deep`;
  const state = cuttingState({ ...bench, job }, cutting);
  switch (state.kind) {
    case 'no-feed':
      return standingLine(
        MARKS.alert,
        'FEED NOT SET UP',
        'the board counts a feed, but this job has none',
        'near',
      );
    case 'void':
      return standingLine(MARKS.cross, 'DEPTH VOID', voidWords(state.why), 'bad');
    case 'kept':
      return standingLine(MARKS.full, 'KEPT', deep(state.depth), 'good');
    case 'not-touched':
      return job.setup.feed
        ? standingLine(MARKS.open, 'NOT TOUCHED OFF', 'nothing counted yet', 'quiet')
        : standingLine(MARKS.open, 'NOT CUT YET', 'this job has no feed: the depth is typed', 'quiet');
    case 'uncounted':
      return standingLine(MARKS.open, 'TOUCHED OFF', 'nothing counted yet', 'quiet');
    case 'unproven':
      return standingLine(
        MARKS.stale,
        'NOT PROVEN',
        `turned back: ${counted(state.detents, 'detent')} deeper will confirm it`,
        'near',
      );
    case 'touched':
      return standingLine(MARKS.half, 'TOUCHED OFF', 'nothing cut yet', 'plain');
    case 'harden':
      return standingLine(MARKS.alert, 'HARDEN NOW', 'one detent left for the finish', 'caution');
    case 'too-deep':
      return standingLine(MARKS.under, 'TOO DEEP', overshoot(bench, job, cutting), 'past');
    case 'full-depth':
      return standingLine(MARKS.full, 'FULL DEPTH', lengthFigure(cutting.depth, bench.unit), 'at');
    case 'last-detent':
      return standingLine(MARKS.half, 'LAST DETENT', 'the finishing pass', 'near');
    case 'cutting':
      return standingLine(MARKS.half, 'CUTTING', deep(cutting.depth), 'plain');
    default: {
      const never: never = state;
      throw new TypeError(`no such state: ${JSON.stringify(never)}`);
    }
  }
}

/** What a groove too deep does to the fit, and what still helps. */
function overshoot(bench: Bench, job: Job, cutting: Cutting): string {
  const bore = job.bore?.diameter;
  const gained = bore === undefined ? null : loosening(job, bore, cutting);
  const more = gained === null ? 'looser fit' : `fit ${lengthFigure(gained, bench.unit)} looser`;
  return cutting.part === 'female' && !job.spigot ? `${more}; target allows for it` : more;
}

const ofPlan = (past: boolean, reached: string | number, planned: string): string =>
  past ? `${reached}, planned ${planned}` : `${reached} of ${planned}`;

function factsOf(bench: Bench, job: Job, { wanted, done, depth, part, tracker }: Cutting): readonly Figure[] {
  const { unit } = bench;
  const planned = job.setup.depth[part];
  const left = mm(planned - depth);
  if (tracker?.kind === 'void')
    return [
      ...(wanted === null ? [] : [{ name: 'planned', value: counted(wanted, 'detent') }]),
      { name: 'depth', value: lengthFigure(planned, unit) },
    ];
  return [
    ...(wanted === null
      ? []
      : [{ name: 'done', value: ofPlan(done > wanted, done, counted(wanted, 'detent')) }]),
    { name: 'depth', value: ofPlan(left < 0, lengthFigure(depth, unit), lengthFigure(planned, unit)) },
    ...(tracker?.kind === 'tracking' && left > 0 ? [{ name: 'left', value: lengthFigure(left, unit) }] : []),
    ...clearanceFact(bench, job, part, depth),
    ...(job.setup.cutter.topSpeed === undefined
      ? []
      : [{ name: 'cutter at most', value: `${job.setup.cutter.topSpeed} turns a minute` }]),
  ];
}

function nextStep(bench: Bench, job: Job, cutting: Cutting, counts: boolean): string {
  const { tracker, wanted, done, hardening, part } = cutting;
  const thread = job.threads[part];
  if (tracker?.kind === 'void')
    return 'Feed in until the cutter just marks the wood, then press Enter to touch off again.';
  if (tracker === null) return untracked(bench, job, part);
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
  return part === 'male'
    ? `${detents} to the shoulder stop; back off, return, feed again.`
    : `${detents} to the runout groove; back off, return, feed again.`;
}

function untracked(bench: Bench, job: Job, part: Part): string {
  const { touchOff, cut } = job.threads[part];
  if (!cut && isFeedUnused({ ...bench, job }))
    return 'Press k to set up the feed with two questions. Or cut it and type the depth.';
  if (cut)
    return job.setup.feed
      ? 'Press n to go on. To cut deeper, press Enter to touch off again.'
      : 'Press n to go on. If you cut deeper, type the new depth.';
  if (touchOff || !job.setup.feed)
    return `Cut the ${partWord(part)}'s thread, then type the depth and press Enter.`;
  return bench.feed
    ? 'With the cutter turning, feed in until it just marks the wood, then press Enter.'
    : 'Feed in until the cutter just marks the wood and press Enter. Or cut it and type the depth.';
}
