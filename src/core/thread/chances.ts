// What a fit leaves in doubt: the budget of its clearance, and the chance of each fit at the first trial.
import { normalBetween } from '../measure/student.ts';
import { type Combined, type Contribution, combine, rectangular } from '../measure/uncertainty.ts';
import type { Length } from '../units.ts';
import type { FitBounds, FitWord } from './fit.ts';
import type { Limits } from './limits.ts';
import type { Pair, Part } from './pair.ts';

/** One touch-off: known only to lie within plus or minus `within` (radial), one feed step unless the turner says better. */
export interface TouchOff {
  readonly within: Length;
}

/** How a depth was fed: detents counted, and what calibration left in doubt about one of them. */
export interface Fed {
  readonly detents: number;
  readonly standardPerDetent: Length;
  readonly degreesOfFreedom: number;
}

/** How well a diameter is known: from its capture, or from diameterContributions combined. */
export interface Diameter {
  readonly standard: Length;
  readonly degreesOfFreedom: number;
}

export interface BudgetInputs {
  readonly pair: Pair;
  readonly limits: Limits;
  readonly bore: Diameter;
  readonly spigot: Diameter;
  readonly touchOff: Readonly<Record<Part, TouchOff>>;
  /** Left out where the depth was measured on the thread instead of counted. */
  readonly fed?: Readonly<Record<Part, Fed>>;
  /** What learning left in doubt (standard), where there was any. */
  readonly biasSpread?: Length;
}

/** d(limit)/d(depth): 2 for either part at the flanks; at the root 2 for the shallower part and nothing for the other. */
export function depthSensitivity(pair: Pair, limits: Limits, part: Part): number {
  if (limits.limitedBy === 'flank') return 2;
  const other = part === 'female' ? pair.male : pair.female;
  return pair[part].depth <= other.depth ? 2 : 0;
}

/**
 * The clearance's budget (maths: c = limit - S + B). The two diameters count as independent even when one caliper took
 * both: inside and outside jaws have their own errors (ISO 13385-1:2019 tells them apart), and what they share would cancel.
 */
export function clearanceBudget(from: BudgetInputs): Combined {
  return combine(clearanceContributions(from));
}

/** The allowance's: both diameters as measured, S - B. */
export const allowanceBudget = ({ bore, spigot }: Pick<BudgetInputs, 'bore' | 'spigot'>): Combined =>
  combine(diameters(bore, spigot));

const diameters = (bore: Diameter, spigot: Diameter): readonly Contribution[] => [
  { name: 'bore measurement', sensitivity: 1, ...bore },
  { name: 'spigot measurement', sensitivity: -1, ...spigot },
];

function clearanceContributions(from: BudgetInputs): readonly Contribution[] {
  const parts: readonly Part[] = ['female', 'male'];
  const depths = parts.flatMap((part) => depthContributions(from, part));
  return [
    ...diameters(from.bore, from.spigot),
    ...depths,
    ...(from.biasSpread === undefined
      ? []
      : [
          {
            name: 'bias learned from trials',
            standard: from.biasSpread,
            sensitivity: 1,
            degreesOfFreedom: Number.POSITIVE_INFINITY,
          },
        ]),
  ];
}

const PLACE: Readonly<Record<Part, string>> = { female: 'in the bore', male: 'on the spigot' };

function depthContributions(from: BudgetInputs, part: Part): readonly Contribution[] {
  const sensitivity = depthSensitivity(from.pair, from.limits, part);
  const fed = from.fed?.[part];
  return [
    {
      name: `touch-off ${PLACE[part]}`,
      standard: rectangular(from.touchOff[part].within),
      sensitivity,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
    },
    ...(fed
      ? [
          {
            name: `feed ${PLACE[part]}`,
            standard: fed.standardPerDetent,
            sensitivity: sensitivity * fed.detents,
            degreesOfFreedom: fed.degreesOfFreedom,
          },
        ]
      : []),
  ];
}

/** The chance of each fit at the first trial; they add up to 1. */
export type Chances = Readonly<Record<FitWord, number>>;

/** Chances from a clearance known to a standard uncertainty, taken as normal (maths section 5). */
export function chancesOf(clearance: Length, standard: number, bounds: FitBounds): Chances {
  const between = (low: number, high: number): number => normalBetween(low, high, clearance, standard);
  const seized = between(Number.NEGATIVE_INFINITY, 0);
  const tight = between(0, bounds.runningFrom);
  const running = between(bounds.runningFrom, bounds.looseFrom);
  return { seized, tight, running, loose: between(bounds.looseFrom, Number.POSITIVE_INFINITY) };
}
