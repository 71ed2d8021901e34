// Simulated jobs with hidden true sizes: how often the stated 95 % interval holds the truth, and how often each word comes true.
import { clearanceInDoubt } from '../../src/core/bench/doubt.ts';
import type { Fact } from '../../src/core/bench/entry.ts';
import type { Job } from '../../src/core/bench/job.ts';
import type { FeedFacts, Setup } from '../../src/core/bench/setup.ts';
import {
  aimOf,
  boundsOverRange,
  expectedOf,
  lossOverRange,
  trialChances,
} from '../../src/core/bench/target.ts';
import { cutDepth, pairOf } from '../../src/core/bench/threads.ts';
import { meanDoubt, rectangular } from '../../src/core/measure/uncertainty.ts';
import { meanOf } from '../../src/core/statistics.ts';
import { calibrateByTravel } from '../../src/core/thread/calibrate.ts';
import { FIT_ORDER, type FitWord, fitWord, limitsOf } from '../../src/core/thread/fit.ts';
import type { Tip } from '../../src/core/thread/form.ts';
import { degrees, humidityPercent, mm } from '../../src/core/units.ts';
import { threaded } from './bench.ts';
import { type Chance, chanceFrom } from './chance.ts';
import { jobWith } from './job.ts';
import { ofKind } from './of-kind.ts';

/** One kind of job, as it really is; millimetres. */
interface Situation {
  readonly name: string;
  /** Each touch-off lies within this, radial. */
  readonly touchOff?: number;
  /** The feed, calibrated by this many travels of ten detents. */
  readonly travels?: number;
  /** Bore readings typed, and what one scatters by. */
  readonly typed?: number;
  readonly scatter?: number;
  readonly tip?: Tip;
  readonly depth?: { readonly female: number; readonly male: number };
  /** The bore closes in by this from its mouth. */
  readonly taper?: number;
  /** Half of what the longest and shortest width of the bore differ by, and of the spigot. */
  readonly oval?: { readonly bore: number; readonly spigot: number };
  /** Standard deviation of the setup's hidden bias, and whether its trials have shown it to be zero. */
  readonly biased?: number;
  readonly season?: boolean;
  readonly plain?: boolean;
}

const OVER = 0.03; // the caliper's limit of error
const STEP = 0.01;
const GAUGE = 0.005; // the dial gauge lies within this
const TRAVEL_SCATTER = 0.01;
const DETENTS_FED = 20;
const PER_DETENT = 0.05;

const rectangle = (chance: Chance, half: number): number => half * (2 * chance.uniform() - 1);
const caliper = (chance: Chance): number => rectangle(chance, OVER) + rectangle(chance, STEP / 2);

/** What calibration found, the true worth of a detent being PER_DETENT. */
function calibrated(chance: Chance, travels: number): FeedFacts {
  const shown = DETENTS_FED * PER_DETENT + rectangle(chance, GAUGE);
  const measured = Array.from({ length: travels }, () => mm(shown + TRAVEL_SCATTER * chance.normal()));
  const found = calibrateByTravel(DETENTS_FED, measured, mm(rectangular(GAUGE)));
  const { perDetent, doubt } = ofKind('calibration', found);
  const { standard, degreesOfFreedom: perDetentFreedom } = doubt;
  return { name: 'feed', perDetent, lostDetents: 0, perDetentStandard: mm(standard), perDetentFreedom };
}

/** A feed whose worth is known for certain. */
const EXACT = { name: 'feed', perDetent: mm(PER_DETENT), lostDetents: 0, perDetentStandard: mm(0) };

function setupFor(chance: Chance, situation: Situation): Setup {
  const { touchOff = 0.05, travels, tip, biased = 0, season, plain } = situation;
  const { feed: _, ...byHand } = threaded;
  const known = travels === undefined ? EXACT : calibrated(chance, travels);
  const feed =
    travels === undefined && situation.touchOff === undefined
      ? undefined
      : { ...known, touchOff: mm(touchOff) };
  const { female, male } = situation.depth ?? { female: 1, male: 1 };
  const cut = (depth: number) => mm(feed ? Math.round(depth / PER_DETENT) * feed.perDetent : depth);
  return {
    ...byHand,
    wood: 'maple, sugar',
    fit: plain ? 'plain' : 'threaded',
    wanted: mm(0.19),
    cutter: { name: 'cutter', angle: degrees(60), tip: tip ?? { kind: 'sharp' } },
    caliper: { name: 'caliper', limitOfError: mm(OVER), step: mm(STEP) },
    depth: { female: cut(female), male: cut(male) },
    learned: { shift: mm(0), mean: mm(0), spread: mm(Math.max(biased, 1e-6)), reasons: [] },
    ...(feed ? { feed } : {}),
    ...(season
      ? {
          season: { from: humidityPercent(35), to: humidityPercent(60), remains: mm(0.19) },
          plannedBore: mm(50),
        }
      : {}),
  };
}

/** The bore's readings as the program keeps them, and the true bore at its mouth, narrowest across. */
function boreOf(
  chance: Chance,
  situation: Situation,
): { readonly facts: readonly Fact[]; readonly narrowest: number } {
  const { typed = 5, scatter = 0.01, taper = 0, oval } = situation;
  const [middle, error, x] = [50, caliper(chance), Math.PI * chance.uniform()];
  const width = (half: number): number => middle + half * Math.cos(2 * x);
  const half = oval?.bore ?? 0;
  const readingsOf = (true_: number) =>
    Array.from({ length: typed }, () => true_ + error + scatter * chance.normal());
  const readings = readingsOf(width(half));
  const square = oval ? readingsOf(width(-half)) : [];
  const { standard, degreesOfFreedom } = meanDoubt(readings, scatter);
  const common = { kind: 'bore-taken', how: 'typed', tops: typed, agreeing: typed, spread: null } as const;
  const taken: Fact = {
    ...common,
    diameter: mm(meanOf(readings)),
    standard: mm(standard),
    degreesOfFreedom,
    ...(oval ? { across: mm(meanOf(square)), acrossStandard: mm(meanDoubt(square, scatter).standard) } : {}),
  };
  const hollow = (where: 'mouth' | 'depth', true_: number): Fact => ({
    kind: 'hollow-measured',
    where,
    how: 'read',
    diameter: mm(true_ + error + 0.03 * chance.normal()),
  });
  const tapered = taper ? [hollow('mouth', middle), hollow('depth', middle - taper)] : [];
  return { facts: [...tapered, taken], narrowest: middle - half - taper };
}

/** The limit of the pair as really cut: counts times the true feed, each touch-off out by its own error. */
function trueLimit(chance: Chance, job: Job, touchOff: number): number {
  if (job.setup.fit === 'plain') return 0;
  const { feed } = job.setup;
  const pair = pairOf(job, mm(50));
  const really = (part: 'female' | 'male') => {
    const counted = cutDepth(job, part);
    const depth = feed ? (counted / feed.perDetent) * PER_DETENT : counted;
    return { ...pair[part], depth: mm(depth + rectangle(chance, touchOff)) };
  };
  return ofKind('limits', limitsOf({ ...pair, female: really('female'), male: really('male') })).limit;
}

interface Seen {
  readonly inside: boolean;
  readonly error: number;
  readonly predicted: Readonly<Record<FitWord, number>>;
  readonly word: FitWord;
}

/** One job from its calibration to its trial; `off` is how far from its target the spigot is left. */
function trial(chance: Chance, situation: Situation, off: number): Seen {
  const setup = setupFor(chance, situation);
  const bore = boreOf(chance, situation);
  const aim = ofKind('aim', aimOf(jobWith(setup, bore.facts)));
  const { oval } = situation;
  const [half, x] = [oval?.spigot ?? 0, Math.PI * chance.uniform()];
  const shown = aim.target + off;
  const error = caliper(chance);
  // the turner stops where the caliper shows this across one orientation, then turns it by a quarter
  const middle = shown - error - half * Math.cos(2 * x);
  const across = middle - half * Math.cos(2 * x) + error;
  const spigot: Fact = {
    kind: 'spigot-taken',
    diameter: mm(shown),
    how: 'read',
    fit: 'running',
    clearance: mm(0),
    ...(oval ? { across: mm(across) } : {}),
  };
  const job = jobWith(setup, [...bore.facts, spigot]);
  const expected = expectedOf(job, spigot);
  const doubt = clearanceInDoubt(job);
  const predicted = trialChances(job, spigot, boundsOverRange(job));
  if (expected.kind !== 'expected' || !doubt || !predicted) throw new Error('nothing expected');
  const limit = trueLimit(chance, job, situation.touchOff ?? 0.05);
  const bias = (situation.biased ?? 0) * chance.normal();
  const truth = limit - (middle + half) + bore.narrowest + bias;
  return {
    inside: Math.abs(truth - expected.clearance) <= doubt.expanded95,
    error: truth - expected.clearance,
    predicted,
    word: fitWord(mm(truth - lossOverRange(job)), overRange(job)),
  };
}

/** The words' bounds on what the worst air leaves. */
function overRange(job: Job) {
  const { seizedBelow = 0, runningFrom, looseFrom } = boundsOverRange(job);
  const loss = job.setup.fit === 'threaded' ? lossOverRange(job) : 0;
  return {
    seizedBelow: mm(seizedBelow - loss),
    runningFrom: mm(runningFrom - loss),
    looseFrom: mm(looseFrom - loss),
  };
}

export interface Coverage {
  readonly name: string;
  /** Share of truths inside the stated 95 % interval. */
  readonly covered: number;
  /** Mean of truth less what was expected. */
  readonly bias: number;
  /** Mean predicted and observed share of each word. */
  readonly words: Readonly<Record<FitWord, { readonly predicted: number; readonly observed: number }>>;
}

/** Spigots are left at their target and up to a tenth either side of it, so that every word is met. */
export function coverageOf(situation: Situation, trials: number, seed: number): Coverage {
  const chance = chanceFrom(seed);
  const seen = Array.from({ length: trials }, () => trial(chance, situation, rectangle(chance, 0.1)));
  const mean = (of: (one: Seen) => number): number => meanOf(seen.map(of));
  const word = (name: FitWord) => ({
    predicted: mean(({ predicted }) => predicted[name]),
    observed: mean((one) => (one.word === name ? 1 : 0)),
  });
  return {
    name: situation.name,
    covered: mean(({ inside }) => (inside ? 1 : 0)),
    bias: mean(({ error }) => error),
    words: { seized: word('seized'), tight: word('tight'), running: word('running'), loose: word('loose') },
  };
}

/** The farthest that a predicted chance lies from what was seen. */
export const worstChance = ({ words }: Coverage): number =>
  Math.max(...FIT_ORDER.map((word) => Math.abs(words[word].predicted - words[word].observed)));

const blunt = (width: number): Tip => ({ kind: 'flat', width: mm(width) });

/** Every budget that a job may have. */
export const SITUATIONS: readonly Situation[] = [
  { name: 'touch-offs by eye, depths measured' },
  { name: 'touch-offs within 0.01 mm', touchOff: 0.01 },
  { name: 'touch-offs within one coarse detent', touchOff: 0.1 },
  { name: 'feed known from one travel', travels: 1, touchOff: 0.01 },
  { name: 'feed known from two travels', travels: 2, touchOff: 0.01 },
  { name: 'feed known from three travels', travels: 3, touchOff: 0.01 },
  { name: 'feed known from ten travels', travels: 10, touchOff: 0.01 },
  { name: 'two travels, touch-offs by eye', travels: 2 },
  { name: 'one typed bore', typed: 1, scatter: 0.03, touchOff: 0.01 },
  { name: 'two typed bores', typed: 2, scatter: 0.03, touchOff: 0.01 },
  { name: 'three typed bores', typed: 3, scatter: 0.03, touchOff: 0.01 },
  { name: 'limited at the roots, equal depths', tip: blunt(0.6), depth: { female: 0.8, male: 0.8 } },
  {
    name: 'limited at the roots, equal depths by feed',
    tip: blunt(0.6),
    depth: { female: 0.8, male: 0.8 },
    travels: 3,
  },
  { name: 'limited at one root', tip: blunt(0.6), depth: { female: 0.8, male: 0.65 } },
  { name: 'flanks and roots at once', tip: blunt(0.34), depth: { female: 0.78, male: 0.8 } },
  { name: 'tapered bore', taper: 0.12, touchOff: 0.01 },
  { name: 'oval bore', oval: { bore: 0.05, spigot: 0 }, touchOff: 0.01 },
  { name: 'oval bore and spigot', oval: { bore: 0.04, spigot: 0.04 }, touchOff: 0.02 },
  { name: 'made for 35 to 60 % humidity', season: true },
  { name: 'a new setup, its bias unknown', biased: 0.15 },
  { name: 'a plain lid', plain: true },
];
