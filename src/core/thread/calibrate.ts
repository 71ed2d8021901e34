// What one detent of the feed is worth: from a measured travel, or from a pair that runs.

import { type Combined, type Contribution, combine, meanDoubt, rectangular } from '../measure/uncertainty.ts';
import { type Length, mm } from '../units.ts';
import { flankSlope, sharpHeight, tipLoss } from './form.ts';
import { limitsOf } from './limits.ts';
import { type FitRefusal, fitRefusalText, type Groove, type Pair, type Part } from './pair.ts';

/** A feed's worth per detent with what the calibration leaves in doubt; `doubt` is of `perDetent`, in mm. */
export interface Calibration {
  readonly kind: 'calibration';
  readonly perDetent: Length;
  readonly doubt: Combined;
}

export type CalibrationRefusal =
  | { readonly kind: 'no-detents'; readonly found: number }
  | { readonly kind: 'no-travel'; readonly perDetent: Length }
  | { readonly kind: 'impossible-pair'; readonly perDetent: Length; readonly why: FitRefusal };

/**
 * A detent that nobody measured lies within this share of the figure given for it, plus or minus; our own choice. A feed screw is
 * far truer, but detents that are spaced by hand, or a figure rounded by its maker, are hardly better.
 */
const GIVEN_WITHIN = 0.02;

/** The standard uncertainty of a detent's worth that was only given. */
export const givenStandard = (perDetent: Length): Length => mm(rectangular(GIVEN_WITHIN * perDetent));

/** What one measured travel scatters by, standard, where no second one shows it; our own choice. */
export const ONE_TRAVEL = mm(0.01);

/**
 * The same number of detents fed once or several times, and the travel measured each time by a dial gauge or feeler of this
 * standard uncertainty. Repeats add their own scatter, with its degrees of freedom; one alone adds what one scatters by.
 */
export function calibrateByTravel(
  detents: number,
  travels: readonly Length[],
  gaugeStandard: Length,
): Calibration | CalibrationRefusal {
  if (!(Number.isInteger(detents) && detents > 0)) return { kind: 'no-detents', found: detents };
  if (travels.length === 0 || !travels.every((travel) => travel > 0 && Number.isFinite(travel)))
    return { kind: 'no-travel', perDetent: mm((travels.find((travel) => !(travel > 0)) ?? 0) / detents) };
  const mean = travels.reduce((so, travel) => so + travel, 0) / travels.length;
  const sensitivity = 1 / detents;
  const gauge = {
    name: 'gauge',
    standard: gaugeStandard,
    sensitivity,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
  const name = travels.length === 1 ? 'one travel alone' : `scatter of ${travels.length} travels`;
  const scatter = { name, sensitivity, ...meanDoubt(travels, ONE_TRAVEL) };
  const doubt = combine([gauge, scatter]);
  return { kind: 'calibration', perDetent: mm(mean / detents), doubt };
}

/** A pair that runs, as the turner knows it: everything but the depths, which were only counted. */
export interface RunningPair {
  readonly pitch: Pair['pitch'];
  readonly starts: number;
  readonly angle: Pair['angle'];
  readonly female: Omit<Groove, 'depth'> & { readonly detents: number };
  readonly male: Omit<Groove, 'depth'> & { readonly detents: number };
  readonly bore: Length;
  readonly spigot: Length;
  /** Axial shake of the closed lid. */
  readonly play: Length;
  /** Standard uncertainties of the two diameters and of the play. */
  readonly standard: { readonly bore: Length; readonly spigot: Length; readonly play: Length };
  /** Half the range in which each touch-off lies, radial. */
  readonly touchOffWithin: Length;
}

/**
 * The flank limit (limits.ts) solved for k (derived): S - B = 2 (k n + af + am + widening) - 2 H - play / t with n the detents of both parts.
 * Holds for a pair limited by its flanks, where the play is.
 */
export function calibrateByPair(of: RunningPair): Calibration | CalibrationRefusal {
  const detents = of.female.detents + of.male.detents;
  if (!(Number.isInteger(detents) && of.female.detents > 0 && of.male.detents > 0))
    return { kind: 'no-detents', found: Math.min(of.female.detents, of.male.detents) };
  const slope = flankSlope(of.angle);
  const short = (groove: RunningPair[Part]): number =>
    tipLoss(groove.tip, of.angle) + (groove.widening ?? 0) / slope;
  const limit = of.spigot - of.bore + of.play / slope;
  const perDetent = mm(
    (limit / 2 + sharpHeight(of.pitch, of.angle) - short(of.female) - short(of.male)) / detents,
  );
  if (!(perDetent > 0 && Number.isFinite(perDetent))) return { kind: 'no-travel', perDetent };
  const why = limitsOf(pairAt(of, perDetent));
  if (why.kind !== 'limits') return { kind: 'impossible-pair', perDetent, why };
  return { kind: 'calibration', perDetent, doubt: combine(pairContributions(of, detents, slope)) };
}

/** The pair with its depths as this feed would have cut them. */
const pairAt = (of: RunningPair, perDetent: Length): Pair => {
  const cut = ({ detents, ...groove }: RunningPair[Part]): Groove => ({
    ...groove,
    depth: mm(perDetent * detents),
  });
  const { pitch, starts, angle } = of;
  return { pitch, starts, angle, female: cut(of.female), male: cut(of.male) };
};

function pairContributions(of: RunningPair, detents: number, slope: number): readonly Contribution[] {
  const known = { degreesOfFreedom: Number.POSITIVE_INFINITY };
  const touchOff = { standard: rectangular(of.touchOffWithin), sensitivity: 1 / detents, ...known };
  return [
    { name: 'bore', standard: of.standard.bore, sensitivity: 1 / (2 * detents), ...known },
    { name: 'spigot', standard: of.standard.spigot, sensitivity: 1 / (2 * detents), ...known },
    { name: 'play', standard: of.standard.play, sensitivity: 1 / (2 * slope * detents), ...known },
    { name: 'touch-off in the bore', ...touchOff },
    { name: 'touch-off on the spigot', ...touchOff },
  ];
}

/** The sentence for a person: what does not add up, and what to look at. */
export function calibrationRefusalText(refused: CalibrationRefusal): string {
  switch (refused.kind) {
    case 'no-detents':
      return `a calibration needs a whole number of detents from 1, not ${refused.found}`;
    case 'no-travel':
      return `by these figures a detent would be ${refused.perDetent.toFixed(3)} mm. Check the travel, or the bore, the spigot and the play`;
    case 'impossible-pair':
      return `by these figures a detent is ${refused.perDetent.toFixed(3)} mm, and no pair fits: ${fitRefusalText(refused.why)}`;
    default:
      return refused satisfies never;
  }
}
