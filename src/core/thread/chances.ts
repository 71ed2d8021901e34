// What a fit leaves in doubt: the spread of its clearance, the middle of that spread, and the chance of each fit.

import {
  type Combined,
  type Contribution,
  combine,
  rectangular,
  type Standard,
  standardOf,
} from '../measure/uncertainty.ts';
import { rootBetween } from '../root.ts';
import { type Student, studentOf, studentShare } from '../statistics.ts';
import { type Length, mm } from '../units.ts';
import type { FitWord, Limits, WordBounds } from './fit.ts';
import { inPart, PARTS, type Pair, type Part } from './pair.ts';

/** A touch-off by eye lies within plus or minus this, radial, where nothing better is known; our own choice. */
export const TOUCH_OFF_BY_EYE = mm(0.05);

/** How the depths were fed. One feed cuts both threads, so its error is one error in both. */
export interface Fed {
  readonly detents: Readonly<Record<Part, number>>;
  /** Standard uncertainty of one detent's worth. */
  readonly standardPerDetent: Length;
  readonly degreesOfFreedom: number;
}

export interface BudgetInputs {
  readonly pair: Pair;
  readonly limits: Limits;
  readonly bore: Standard;
  readonly spigot: Standard;
  /** Each touch-off lies within plus or minus this, radial. */
  readonly touchOff: Readonly<Record<Part, Length>>;
  /** The depths were measured on the threads: it is their depths, not touch-offs, that lie within it. */
  readonly measured?: boolean;
  /** Left out where the depth was measured on the thread instead of counted. */
  readonly fed?: Fed | undefined;
  /** Standard uncertainty of the bias of this setup: the assumed one for a new setup, or what its trials have left. */
  readonly biasSpread?: Length | undefined;
  /** Further doubts of the clearance, such as taper and ovality (taper-and-oval.ts). */
  readonly others?: readonly Contribution[];
}

/** One of the equally likely places of the clearance: how far from its expectation, and how far it still spreads there. */
interface Outcome {
  readonly off: number;
  readonly standard: number;
  readonly student: Student;
}

/** The combined doubt of a clearance; its interval lies about the expected clearance, which is the computed one plus `bias`. */
export interface ClearanceDoubt extends Combined {
  /** Below zero where the shallower of two uncertain depths decides: the mean of the smaller is less than either mean. */
  readonly bias: Length;
  readonly outcomes: readonly Outcome[];
}

/**
 * Bore and spigot as they enter an allowance, S - B. They count as independent even when one caliper took both: inside and
 * outside jaws have their own errors (ISO 13385-1:2019 tells them apart), and what they share would cancel.
 */
const diameters = ({ bore, spigot }: Pick<BudgetInputs, 'bore' | 'spigot'>): readonly Contribution[] => [
  { name: 'bore measurement', ...bore },
  { name: 'spigot measurement', ...spigot },
];

export const allowanceBudget = (from: Pick<BudgetInputs, 'bore' | 'spigot'>): Combined =>
  combine(diameters(from));

const withoutDepths = (from: Pick<BudgetInputs, 'bore' | 'spigot' | 'biasSpread' | 'others'>) => [
  ...diameters(from),
  ...(from.biasSpread === undefined ? [] : [{ name: "this setup's bias", standard: from.biasSpread }]),
  ...(from.others ?? []),
];

/** The doubt of a lid without a thread: bore less spigot, and the bias. */
export function plainDoubt(from: Omit<BudgetInputs, 'pair' | 'limits' | 'touchOff' | 'fed'>): ClearanceDoubt {
  const whole = combine(withoutDepths(from));
  return { ...whole, bias: mm(0), outcomes: [{ off: 0, ...spreadAt(whole) }] };
}

/** d(limit)/d(depth) on each part where the clearance is: 2 and 2 at the flanks; at a root 2 for the part it is in. */
type Slopes = Readonly<Record<Part, number>>;

interface Place {
  /** Limit here less the computed limit. */
  readonly off: number;
  readonly slopes: Slopes;
}

/** The limit once both depths are out by so much: the smallest of the three at which the threads touch (fit.ts). */
function placeAt(
  { pair, limits }: Pick<BudgetInputs, 'pair' | 'limits'>,
  female: number,
  male: number,
): Place {
  const places: readonly Place[] = [
    { off: limits.flank + 2 * (female + male), slopes: { female: 2, male: 2 } },
    { off: 2 * (pair.female.depth + female), slopes: { female: 2, male: 0 } },
    { off: 2 * (pair.male.depth + male), slopes: { female: 0, male: 2 } },
  ];
  const least = places.reduce((so, place) => (place.off < so.off ? place : so));
  return { ...least, off: least.off - limits.limit };
}

/** A Fibonacci lattice, the two-dimensional good lattice points (Niederreiter 1992, section 5.1; from memory). */
const LATTICE = { points: 144, step: 89 };

/** Both touch-offs over their rectangles, each place equally likely (JCGM 101:2008, 6.4.2 for the rectangle; from memory). */
function placesOf(from: Pick<BudgetInputs, 'pair' | 'limits' | 'touchOff'>): readonly Place[] {
  return Array.from({ length: LATTICE.points }, (_, at) => {
    const across = (2 * at + 1) / LATTICE.points - 1;
    const along = (2 * ((at * LATTICE.step) % LATTICE.points) + 1) / LATTICE.points - 1;
    return placeAt(from, from.touchOff.female * across, from.touchOff.male * along);
  });
}

/** What the mean of the limit is over the computed one, below zero where the shallower of two uncertain depths decides. */
export const limitBias = (from: Pick<BudgetInputs, 'pair' | 'limits' | 'touchOff'>): Length =>
  mm(mean(placesOf(from).map(({ off }) => off)));

const mean = (values: readonly number[]): number =>
  values.reduce((so, value) => so + value, 0) / values.length;

/** One error of the feed in both parts: c = k (n_f dL/dh_f + n_m dL/dh_m), added before it is squared (JCGM 100 5.2.2, note 1). */
function feedContribution(fed: Fed | undefined, slopes: Slopes): readonly Contribution[] {
  if (!fed) return [];
  const { detents, standardPerDetent: standard, degreesOfFreedom } = fed;
  const sensitivity = slopes.female * detents.female + slopes.male * detents.male;
  return [{ name: 'worth of a detent', standard, sensitivity, degreesOfFreedom }];
}

const touchOffs = (from: BudgetInputs, slopes: Slopes): readonly Contribution[] =>
  PARTS.map((part) => ({
    name: `${from.measured ? 'thread depth' : 'touch-off'} ${inPart(part)}`,
    standard: rectangular(from.touchOff[part]),
    sensitivity: slopes[part],
  }));

/**
 * The clearance's doubt: c = limit - S + B, the limit being the smallest of three that hang on both depths. Contributions
 * and shares are those of JCGM 100 with the mean slopes. The interval, the middle and the chances come from the distribution
 * itself (propagated as in JCGM 101): touch-offs over their rectangles, the rest at each place as Student's t.
 */
export function clearanceDoubt(from: BudgetInputs): ClearanceDoubt {
  const places = placesOf(from);
  const slopes = {
    female: mean(places.map((place) => place.slopes.female)),
    male: mean(places.map((place) => place.slopes.male)),
  };
  const rest = withoutDepths(from);
  const budget = combine([...rest, ...touchOffs(from, slopes), ...feedContribution(from.fed, slopes)]);
  const bias = mean(places.map(({ off }) => off));
  const spread = spreadsBy((at) => standardOf([...rest, ...feedContribution(from.fed, at)]));
  const outcomes = places.map((place) => ({ off: place.off - bias, ...spread(place.slopes) }));
  const straight = places.every((place) => place.slopes.female === slopes.female);
  const standard = straight
    ? budget.standard
    : Math.sqrt(mean(outcomes.map((at) => at.off ** 2 + at.standard ** 2)));
  const expanded95 = halfWidth(outcomes, budget.coverageFactor * standard);
  const coverageFactor = standard === 0 ? budget.coverageFactor : expanded95 / standard;
  return { ...budget, standard, expanded95, coverageFactor, bias: mm(straight ? 0 : bias), outcomes };
}

const spreadAt = ({ standard, degreesOfFreedom }: Standard) => ({
  standard,
  student: studentOf(degreesOfFreedom),
});

/** The spread for each pair of slopes, of which there are three, worked out once. */
function spreadsBy(of: (slopes: Slopes) => Standard): (slopes: Slopes) => Omit<Outcome, 'off'> {
  const known = new Map<number, Omit<Outcome, 'off'>>();
  return (slopes) => {
    const key = 4 * slopes.female + slopes.male;
    const spread = known.get(key) ?? spreadAt(of(slopes));
    known.set(key, spread);
    return spread;
  };
}

const shareBelow = (value: number, { off, standard, student }: Outcome): number => {
  if (standard === 0) return value > off ? 1 : 0;
  return studentShare((value - off) / standard, student);
};

/** Half of the interval about the expectation that holds 95 % of all outcomes, from a first guess. */
function halfWidth(outcomes: readonly Outcome[], guess: number): number {
  if (guess === 0) return 0;
  const beyond = (half: number): number =>
    mean(outcomes.map((at) => shareBelow(half, at) - shareBelow(-half, at))) - 0.95;
  const root = rootBetween(beyond, guess / 4, guess * 4, guess * 1e-5);
  return root.ok ? root.at : guess;
}

/** The chance of each fit at the first trial; they add up to 1. */
export type Chances = Readonly<Record<FitWord, number>>;

/** The chance of each fit when this clearance is expected, over every outcome that the doubt allows. */
export function chancesOf(expected: Length, doubt: ClearanceDoubt, bounds: WordBounds): Chances {
  const below = (bound: number): number =>
    mean(doubt.outcomes.map((outcome) => shareBelow(bound - expected, outcome)));
  const [seized, short, most] = [
    below(bounds.seizedBelow ?? 0),
    below(bounds.runningFrom),
    below(bounds.looseFrom),
  ];
  return { seized, tight: short - seized, running: most - short, loose: 1 - most };
}
