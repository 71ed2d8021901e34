// Uncertainty: contributions combined in squares, with degrees of freedom and the 95 % interval (JCGM 100:2008).
import { coverageFactor, spreadOf } from '../statistics.ts';
import { type Length, mm } from '../units.ts';

/** One source of doubt. */
export interface Contribution {
  readonly name: string;
  readonly standard: number;
  /** How much the result changes for a change of one unit in this source; 1 if left out. */
  readonly sensitivity?: number;
  /** Left out, without end: for a figure from a maker's sheet or a rectangle taken as known. */
  readonly degreesOfFreedom?: number;
}

/** A standard uncertainty, and how well it is known itself. */
export interface Standard {
  readonly standard: number;
  /** Effective, by Welch-Satterthwaite, where several are combined; Infinity when every contribution's are. */
  readonly degreesOfFreedom: number;
}

export interface Combined extends Standard {
  readonly coverageFactor: number;
  /** Half-width of the 95 % interval. */
  readonly expanded95: number;
  readonly largest: Contribution;
  /** Each contribution's part of the variance, largest first; they add up to 1 unless nothing is in doubt. */
  readonly shares: readonly { readonly name: string; readonly share: number }[];
}

/** Standard uncertainty of a quantity known only to lie within plus or minus `half` (JCGM 100 4.3.7). */
export const rectangular = (half: number): number => half / Math.sqrt(3);
/** Standard uncertainty that a step of a display leaves (JCGM 100 F.2.2.1). */
export const resolution = (step: number): number => step / Math.sqrt(12);

const ENDLESS = Number.POSITIVE_INFINITY;

/** In the result's unit. */
const effect = ({ standard, sensitivity = 1 }: Contribution): number => Math.abs(sensitivity) * standard;

function check(from: Contribution): void {
  const { name, standard, sensitivity = 1, degreesOfFreedom = ENDLESS } = from;
  if (!(standard >= 0 && Number.isFinite(effect(from)) && degreesOfFreedom > 0))
    throw new RangeError(
      `contribution "${name}": standard ${standard}, sensitivity ${sensitivity}, degrees of freedom ${degreesOfFreedom}`,
    );
}

/** Effective degrees of freedom (JCGM 100 G.2b, Welch-Satterthwaite), not cut down to a whole number. */
function effectiveDegrees(contributions: readonly Contribution[], standard: number): number {
  if (standard === 0) return ENDLESS;
  const parts = contributions.map(
    (from) => (effect(from) / standard) ** 4 / (from.degreesOfFreedom ?? ENDLESS),
  );
  return 1 / parts.reduce((so, part) => so + part, 0);
}

/**
 * The combined standard uncertainty of uncorrelated contributions (JCGM 100 5.1.2), with its degrees of freedom.
 * Throws a RangeError for a contribution that isn't a number: the caller's mistake, not the turner's.
 */
export function standardOf(contributions: readonly Contribution[]): Standard {
  for (const from of contributions) check(from);
  const standard = Math.hypot(...contributions.map(effect));
  return { standard, degreesOfFreedom: effectiveDegrees(contributions, standard) };
}

/**
 * What `standardOf` gives, and its 95 % interval (JCGM 100 G.4).
 * Throws a RangeError for an empty list or a contribution that isn't a number: the caller's mistakes, not the turner's.
 */
export function combine(contributions: readonly Contribution[]): Combined {
  const { standard, degreesOfFreedom } = standardOf(contributions);
  const [largest] = contributions.toSorted((a, b) => effect(b) - effect(a));
  if (!largest) throw new RangeError('nothing to combine');
  const factor = coverageFactor(0.95, degreesOfFreedom);
  const shares = contributions
    .map((from) => ({ name: from.name, share: standard === 0 ? 0 : (effect(from) / standard) ** 2 }))
    .toSorted((a, b) => b.share - a.share);
  const expanded95 = factor * standard;
  return { standard, degreesOfFreedom, coverageFactor: factor, expanded95, largest, shares };
}

/** How far a caliper may be out, and how finely it shows. */
export interface CaliperLimits {
  /** Its maker's limit of error, plus or minus. */
  readonly limitOfError: Length;
  /** One step of its display. */
  readonly step: Length;
}

/**
 * The doubt of a diameter: what the caliper itself leaves, the zero check where one was made, and the scatter of what was
 * measured: of a capture's peaks, or of typed readings (`meanDoubt`).
 */
export function diameterDoubt(of: {
  readonly name: string;
  readonly caliper: CaliperLimits;
  /** Standard uncertainty of the zero check. */
  readonly zero?: Length | undefined;
  readonly scatter?: Standard | undefined;
}): Combined {
  const { name, caliper, zero, scatter } = of;
  return combine([
    { name: `${name}: caliper's limit of error`, standard: rectangular(caliper.limitOfError) },
    { name: `${name}: caliper's step`, standard: resolution(caliper.step) },
    ...(zero === undefined ? [] : [{ name: `${name}: zero check`, standard: zero }]),
    ...(scatter ? [{ name: `${name}: scatter`, ...scatter }] : []),
  ]);
}

/** What one reading of a diameter by hand scatters by, standard; our own choice, for a reading that has no second beside it. */
export const ONE_READING = mm(0.03);

/** The doubt of the mean of repeated readings: s / sqrt(n) with n - 1 degrees of freedom (JCGM 100 4.2.3); one alone has only `one`. */
export function meanDoubt(values: readonly number[], one: number = ONE_READING): Standard {
  const { count, deviation } = spreadOf(values);
  if (count === 1) return { standard: one, degreesOfFreedom: ENDLESS };
  return { standard: deviation / Math.sqrt(count), degreesOfFreedom: count - 1 };
}
