// What one detent of the feed is worth: from a measured travel, or from a pair that runs.

import {
  type CaliperLimits,
  type Combined,
  type Contribution,
  combine,
  diameterDoubt,
  meanDoubt,
  rectangular,
} from '../measure/uncertainty.ts';
import { type Length, mm } from '../units.ts';
import { limitsOf } from './fit.ts';
import { flankSlope, sharpHeight, type Tip, tipLoss } from './form.ts';
import { type MillingSetup, wideningOf } from './milling.ts';
import { type FitRefusal, fitRefusalText, type Groove, type Part } from './pair.ts';

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

/** The turner knows it: the screw's pitch over its detents, or what the maker says. */
export function calibrateAsGiven(perDetent: Length): Calibration {
  const own = { name: 'figure given for one detent', standard: givenStandard(perDetent) };
  return { kind: 'calibration', perDetent, doubt: combine([own]) };
}

/** How well a gauge and a shake are known where nobody says, plus or minus; our own choices, each shown with what it is used for. */
export const USUAL_WITHIN = { gauge: mm(0.01), play: mm(0.05) } as const;

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
  const gauge = { name: 'gauge', standard: gaugeStandard, sensitivity };
  const name = travels.length === 1 ? 'one travel alone' : `scatter of ${travels.length} travels`;
  const scatter = { name, sensitivity, ...meanDoubt(travels, ONE_TRAVEL) };
  const doubt = combine([gauge, scatter]);
  return { kind: 'calibration', perDetent: mm(mean / detents), doubt };
}

/** A pair that runs, as the turner knows it: everything but the depths, which were only counted. */
export interface RunningPair extends MillingSetup {
  readonly cutter: MillingSetup['cutter'] & { readonly tip: Tip };
  readonly caliper: CaliperLimits;
  readonly bore: Length;
  readonly spigot: Length;
  readonly detents: { readonly [part in Part]: number };
  /** Axial shake of the closed lid, known within plus or minus `playWithin`. */
  readonly play: Length;
  readonly playWithin: Length;
  /** Half the range in which each touch-off lies, radial. */
  readonly touchOffWithin: Length;
  /** Standard uncertainties of the two diameters, where more is known of them than what the caliper's sheet says. */
  readonly standard?: { readonly bore: Length; readonly spigot: Length };
}

/** How often the widening of a disc cutter, which hangs on the depth a little, is put in again; it settles in two. */
const ROUNDS = 4;

/** The feed that makes this pair run with this play, the disc cutter's widening put in. */
export function calibrateByPair(of: RunningPair): Calibration | CalibrationRefusal {
  let made = byFlanks(of, mm(0));
  for (let round = 0; round < ROUNDS && made.kind === 'calibration'; round += 1)
    made = byFlanks(of, made.perDetent);
  return made;
}

/**
 * The flank limit (fit.ts) solved for k (derived): S - B = 2 (k n + af + am + widening) - 2 H - play / t with n the detents of both parts.
 * Holds for a pair limited by its flanks, where the play is. The widening is that of grooves cut by `before` a detent.
 */
function byFlanks(of: RunningPair, before: Length): Calibration | CalibrationRefusal {
  const { starts, bore, spigot } = of;
  const { angle, tip } = of.cutter;
  const { female, male } = of.detents;
  const detents = female + male;
  if (!(Number.isInteger(detents) && female > 0 && male > 0))
    return { kind: 'no-detents', found: Math.min(female, male) };
  const slope = flankSlope(angle);
  const pitch = of.pitch.length;
  const widening = {
    female: wideningOf(of, 'female', bore, mm(before * female)),
    male: wideningOf(of, 'male', spigot, mm(before * male)),
  };
  const short = (part: Part): number => tipLoss(tip, angle) + widening[part] / slope;
  const limit = spigot - bore + of.play / slope;
  const perDetent = mm((limit / 2 + sharpHeight(pitch, angle) - short('female') - short('male')) / detents);
  if (!(perDetent > 0 && Number.isFinite(perDetent))) return { kind: 'no-travel', perDetent };
  const groove = (part: Part): Groove => ({
    tip,
    depth: mm(perDetent * of.detents[part]),
    widening: widening[part],
  });
  const why = limitsOf({ pitch, starts, angle, female: groove('female'), male: groove('male') });
  if (why.kind !== 'limits') return { kind: 'impossible-pair', perDetent, why };
  return { kind: 'calibration', perDetent, doubt: combine(pairContributions(of, detents, slope)) };
}

function pairContributions(of: RunningPair, detents: number, slope: number): readonly Contribution[] {
  const touchOff = { standard: rectangular(of.touchOffWithin), sensitivity: 1 / detents };
  const diameter = (name: 'bore' | 'spigot'): Contribution => {
    const standard = of.standard?.[name] ?? diameterDoubt({ name, caliper: of.caliper }).standard;
    return { name, standard, sensitivity: 1 / (2 * detents) };
  };
  const play = { standard: rectangular(of.playWithin), sensitivity: 1 / (2 * slope * detents) };
  return [
    diameter('bore'),
    diameter('spigot'),
    { name: 'play', ...play },
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
      return `with these figures a detent would be ${refused.perDetent.toFixed(3)} mm. Check the travel, or the bore, the spigot and the play`;
    case 'impossible-pair':
      return `with these figures a detent would be ${refused.perDetent.toFixed(3)} mm, which isn't possible: ${fitRefusalText(refused.why)}`;
    default:
      return refused satisfies never;
  }
}
