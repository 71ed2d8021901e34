// The virtual bench beside the screen: what its simulated turner does at each stage, what is made to go wrong, and its kit.
import { adviceOn } from '../../core/bench/advice.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Kit, Part } from '../../core/bench/setup.ts';
import { detentsDone } from '../../core/bench/stages/fed-thread.ts';
import { nextHeight } from '../../core/bench/stages/hollow.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { choices, trialRules, trialWord } from '../../core/bench/stages/trial-and-record.ts';
import type { Bench } from '../../core/bench/state.ts';
import { aimOf } from '../../core/bench/target.ts';
import {
  type Mishap,
  mishapAt,
  realOutcome,
  swellingToTight,
  type Teaching,
  type TeachingOrder,
  type Truth,
} from '../../core/bench/teaching.ts';
import { defaultBounds, type FitWord } from '../../core/thread/fit.ts';
import { degrees, type Length, type LengthUnit, type Millis, mm } from '../../core/units.ts';
import type { Activity } from '../../link/virtual/hand.ts';
import { DETENT, TOUCH_OFF } from '../../link/virtual/lathe.ts';
import { createVirtualLink, type VirtualLink } from '../../link/virtual-link.ts';

const VIRTUAL_CALIPER = 'virtual caliper';

/** Equipment that only exists here, under its own names, so that it never mixes with what real trials taught. */
export const virtualKit = (unit: LengthUnit): Kit => ({
  calipers: [{ name: VIRTUAL_CALIPER, limitOfError: mm(0.02), step: mm(0.01) }],
  cutters: [
    { name: 'virtual cutter', angle: degrees(60), tip: { kind: 'sharp' }, diameter: mm(20), topSpeed: 6000 },
  ],
  feeds: [
    {
      name: 'virtual feed',
      perDetent: mm(DETENT),
      lostDetents: 1,
      perDetentStandard: mm(0.001),
      touchOff: mm(TOUCH_OFF),
    },
  ],
  unit,
  bounds: defaultBounds,
  wanted: mm(0.15),
});

/** A job made on the virtual bench: known by the caliper it was measured with. */
export const isVirtual = (job: Job): boolean => job.setup.caliper.name === VIRTUAL_CALIPER;

/** How much deeper this part has to be cut, by the last trial. */
function advisedBy(job: Job, part: Part): number {
  const advice = adviceOn(job).find((one) => one.kind === 'deepen' && one.part === part);
  return advice?.kind === 'deepen' ? advice.by : 0;
}

function threading(job: Job, part: Part): Activity {
  const { tracker, cut } = job.threads[part];
  const { feed, depth } = job.setup;
  if (job.setup.byHand) return { doing: 'rest' };
  if (tracker?.kind !== 'tracking') return { doing: 'touch-off', part };
  const wanted = cut ? cut.depth + advisedBy(job, part) : depth[part];
  if (!feed || (cut && wanted === cut.depth)) return { doing: 'rest' };
  const detents = Math.round(wanted / feed.perDetent) - detentsDone(tracker);
  return detents > 0 ? { doing: 'feed-in', part, detents } : { doing: 'rest' };
}

/** How many presses of the button choose this word. */
function pressesTo(bench: WithJob, word: FitWord): number {
  let [at, presses] = [bench, 0];
  while (trialWord(at) !== word && presses < choices(bench).length) {
    at = { ...trialRules.again(at).bench, job: bench.job };
    presses += 1;
  }
  return presses;
}

/** The pair is tried until the kept word is what it does now. */
function trying(bench: WithJob, truth: Truth | null): Activity {
  const real = truth && realOutcome(bench.job, truth);
  const last = bench.job.trials.at(-1);
  const isKnown = last && !last.reworked && !last.relieved && last.verdict === real?.word;
  return real && !isKnown ? { doing: 'trial', presses: pressesTo(bench, real.word) } : { doing: 'rest' };
}

/** What a turner would be doing at the stage that the bench shows. */
export function activityFor(bench: Bench, truth: Truth | null, zeroError: Length): Activity {
  const { job, mode } = bench;
  if (mode.kind === 'practice') return { doing: 'rock-by-key' };
  if (!job || mode.kind !== 'stage' || job.closed) return { doing: 'rest' };
  switch (job.stage) {
    case 'zero':
      return { doing: 'close-jaws' };
    case 'hollow':
      return { doing: 'measure-hollow', where: nextHeight(job) };
    case 'bore thread':
      return threading(job, 'female');
    case 'bore size':
      return job.bore ? { doing: 'rest' } : { doing: 'rock-bore' };
    case 'spigot': {
      const aim = aimOf(job);
      if (aim.kind !== 'aim') return { doing: 'rest' };
      // The turner goes by the caliper, and it still shows what of its zero error was not taken off.
      const shows = zeroError - (job.zero?.applied ? job.zero.error : 0);
      return { doing: 'cut-spigot', target: mm(aim.target - shows) };
    }
    case 'spigot thread':
      return threading(job, 'male');
    case 'trial':
      return trying({ ...bench, job }, truth);
    case 'record':
      return { doing: 'rest' };
    default:
      return job.stage satisfies never;
  }
}

/** What is measured: another piece of wood for each job, another ring for each measurement in practice. */
const workOf = ({ mode, job }: Bench): string =>
  mode.kind === 'practice' ? `ring ${mode.practice.results.length}` : (job?.id ?? '');

/** Activities with the same key continue without starting over: a thread until it is at depth, a trial until it is kept. */
function activityKey(bench: Bench, activity: Activity): string {
  const { job } = bench;
  const { doing } = activity;
  const of = doing === 'feed-in' ? doing : doing === 'trial' ? [doing, job?.trials] : activity;
  return JSON.stringify([workOf(bench), job?.stage, of]);
}

/** Paces that keys go through. Faster than life, a long cut does not keep a class waiting; our own choice. */
const PACES = [0.25, 0.5, 1, 2, 4, 8] as const;

export interface VirtualShopSettings {
  readonly seed: number;
  readonly now: () => Millis;
  /** Mishaps planned, each for its first chance. */
  readonly mishaps: readonly Mishap[];
  /** In practice the caliper is true: a miss is the hand's. */
  readonly practice: boolean;
}

/** The simulated turner with their link, led by what the bench shows and by orders. */
export class VirtualShop {
  readonly link: VirtualLink;
  readonly #waiting: Set<Mishap>;
  #teaching: Teaching = { pace: 1, paused: false, mishaps: [], truth: null };
  #activity = '';
  /** The job or the ring that the wood on the lathe is for. */
  #work = '';
  /** False for a job that was measured in an earlier sitting: its wood is not on this lathe. */
  #isOurs = false;

  constructor({ seed, now, mishaps, practice }: VirtualShopSettings) {
    this.link = createVirtualLink({ seed, ...(practice ? { zeroError: mm(0) } : {}) }, now);
    this.#waiting = new Set(mishaps);
  }

  /** Tells the turner what to do next. The answer is the same object while nothing about it changed. */
  lead(bench: Bench): Teaching {
    const { job } = bench;
    const work = workOf(bench);
    if (work !== '' && work !== this.#work) {
      this.link.bench.newBlank();
      this.#isOurs = !job?.bore && !job?.spigot;
      this.#becomes({ mishaps: [] });
    }
    this.#work = work;
    for (const mishap of this.#waiting) if (isTimeFor(mishap, bench)) this.#goesWrong(mishap, bench);
    const { bore, spigot, depth, zeroError } = this.link.bench.truth();
    const truth = this.#isOurs ? { bore, spigot, depth } : null;
    if (JSON.stringify(truth) !== JSON.stringify(this.#teaching.truth)) this.#becomes({ truth });
    const activity = activityFor(bench, truth, zeroError);
    const key = activityKey(bench, activity);
    if (key !== this.#activity) this.link.bench.follow(activity);
    this.#activity = key;
    return this.#teaching;
  }

  order(order: TeachingOrder, bench: Bench): Teaching {
    const { pace, paused } = this.#teaching;
    switch (order) {
      case 'pause':
        this.#becomes({ paused: !paused });
        break;
      case 'slower':
        this.#becomes({ pace: PACES.findLast((one) => one < pace) ?? pace });
        break;
      case 'faster':
        this.#becomes({ pace: PACES.find((one) => one > pace) ?? pace });
        break;
      case 'jaws-left':
      case 'jaws-right':
        this.link.bench.nudge(order === 'jaws-left' ? -1 : 1);
        break;
      default:
        this.#goesWrong(order, bench);
    }
    return this.#teaching;
  }

  #becomes(change: Partial<Teaching>): void {
    this.#teaching = { ...this.#teaching, ...change };
    this.link.setPace(this.#teaching.paused ? 0 : this.#teaching.pace);
  }

  #goesWrong(mishap: Mishap, { job }: Bench): void {
    this.#waiting.delete(mishap);
    this.#becomes({ mishaps: [...this.#teaching.mishaps, mishap] });
    HAPPENS[mishap](this.link.bench, job);
  }
}

/** What each mishap does on the simulated bench. */
const HAPPENS: { readonly [mishap in Mishap]: (bench: VirtualLink['bench'], job: Job | null) => void } = {
  'small-bore': (bench) => bench.catchChip(),
  'bad-lines': (bench) => bench.damageLines(),
  'lost-count': (bench) => bench.loseCount(),
  'tight-trial': (bench, job) => {
    const by = job && swellingToTight(job, bench.truth());
    if (by) bench.swell(by);
  },
};

/** A count can only be lost once it has begun, and a pair only swells where there is one. */
function isTimeFor(mishap: Mishap, { job, mode }: Bench): boolean {
  if (!job || job.closed || mode.kind !== 'stage') return false;
  if (mishap === 'bad-lines') return job.stage === 'bore size';
  if (mishap === 'lost-count')
    return Object.values(job.threads).some(({ tracker }) => tracker !== null && detentsDone(tracker) > 1);
  return mishapAt(job.stage) === mishap;
}
