// The answer of `lidwright fit`: target, band, fit, doubt and chances, and the same as JSON.
import { type Combined, combine, diameterContributions } from '../core/measure/uncertainty.ts';
import { allowanceBudget, type Chances, chancesOf, clearanceBudget } from '../core/thread/chances.ts';
import {
  type Band,
  bandOf,
  type Fit,
  fitOf,
  plainTarget,
  type Target,
  targetSpigot,
} from '../core/thread/fit.ts';
import { type Limits, limitsOf } from '../core/thread/limits.ts';
import { type FitRefusal, fitRefusalText } from '../core/thread/pair.ts';
import { type Length, mm } from '../core/units.ts';
import type { PlainAsked, ThreadAsked } from './fit-asked.ts';
import { threadWarnings } from './fit-warnings.ts';

export interface ThreadAnswer {
  readonly kind: 'thread';
  readonly limits: Limits;
  readonly target: Target;
  readonly band: Band;
  /** Of the spigot given, or of the target. */
  readonly fit: Fit;
  /** Of the clearance. */
  readonly doubt: Combined;
  readonly allowanceDoubt: Combined;
  readonly chances: Chances;
  readonly warnings: readonly string[];
}

/** The answer is no: why, and what is known all the same. */
export interface NoFit {
  readonly kind: 'no';
  readonly why: FitRefusal;
  readonly limits: Limits | undefined;
}

/** What the caliper, and the capture where there was one, leave in doubt about a diameter. */
function diameterDoubt(name: string, diameter: Length, asked: ThreadAsked | PlainAsked, captured?: Length) {
  const own = diameterContributions({ name, diameter, caliper: asked.caliper });
  const capture = { name: `${name}: capture`, sensitivity: 1, degreesOfFreedom: Number.POSITIVE_INFINITY };
  const all = combine(captured === undefined ? own : [...own, { ...capture, standard: captured }]);
  return { standard: mm(all.standard), degreesOfFreedom: all.degreesOfFreedom };
}

export function answerThread(asked: ThreadAsked): ThreadAnswer | NoFit {
  const { pair, bore, bounds } = asked;
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return { kind: 'no', why: limits, limits: undefined };
  const no = (why: FitRefusal): NoFit => ({ kind: 'no', why, limits });
  const target = targetSpigot(pair, bore, asked.clearance);
  if (target.kind !== 'target') return no(target);
  const band = bandOf(pair, bore, bounds);
  if (band.kind !== 'band') return no(band);
  const spigot = asked.spigot ?? target.spigot;
  const fit = fitOf(pair, bore, spigot, bounds);
  if (fit.kind !== 'fit') return no(fit);
  const within = { within: asked.touchOffWithin };
  const measured = {
    bore: diameterDoubt('bore', bore, asked, asked.boreStandard),
    spigot: diameterDoubt('spigot', spigot, asked),
  };
  const doubt = clearanceBudget({ pair, limits, ...measured, touchOff: { female: within, male: within } });
  const allowanceDoubt = allowanceBudget(measured);
  const chances = chancesOf(fit.clearance, doubt.standard, bounds);
  const answer = { kind: 'thread', limits, target, band, fit, doubt, allowanceDoubt, chances } as const;
  return { ...answer, warnings: threadWarnings(asked, answer) };
}

const endless = (degreesOfFreedom: number): number | null =>
  Number.isFinite(degreesOfFreedom) ? degreesOfFreedom : null;

const doubtJson = (doubt: Combined) => ({
  standardUncertaintyMm: doubt.standard,
  expandedUncertaintyMm: doubt.expanded95,
  degreesOfFreedom: endless(doubt.degreesOfFreedom),
  largestContributor: doubt.largest.name,
  contributors: doubt.shares,
});

const limitsJson = (limits: Limits) => ({
  limitMm: limits.limit,
  flankLimitMm: limits.flank,
  rootLimitMm: limits.root,
  cornerLimitMm: limits.corner,
  limitedBy: limits.limitedBy,
  boreCrestMm: limits.crest.female,
  spigotCrestMm: limits.crest.male,
});

export const threadJson = (
  asked: ThreadAsked,
  { limits, target, band, fit, doubt, allowanceDoubt, chances, warnings }: ThreadAnswer,
) => ({
  ...limitsJson(limits),
  allowanceMm: fit.allowance,
  clearanceMm: fit.clearance,
  playMm: fit.play,
  targetSpigotMm: target.spigot,
  bandMm: [band.low, band.high],
  engagement: fit.engagement,
  fit: fit.word,
  boreMm: asked.bore,
  spigotMm: asked.spigot ?? target.spigot,
  ...doubtJson(doubt),
  allowanceExpandedUncertaintyMm: allowanceDoubt.expanded95,
  chances,
  warnings,
});

/** No fit as JSON: every length that is still known, and the reason among the warnings. */
export const noFitJson = ({ why, limits }: NoFit) => ({
  refused: why.kind,
  ...(limits ? limitsJson(limits) : { limitMm: null, flankLimitMm: null, rootLimitMm: null }),
  allowanceMm: null,
  clearanceMm: null,
  playMm: null,
  targetSpigotMm: null,
  bandMm: null,
  engagement: null,
  warnings: [`${fitRefusalText(why)}.`],
});

export interface PlainAnswer {
  readonly kind: 'plain';
  readonly target: Target;
  readonly clearance: Length;
  readonly doubt: Combined;
}

export function answerPlain(asked: PlainAsked): PlainAnswer | NoFit {
  const target = plainTarget(asked.bore, asked.clearance);
  if (target.kind !== 'target') return { kind: 'no', why: target, limits: undefined };
  const spigot = asked.spigot ?? target.spigot;
  const doubt = combine([
    { name: 'bore', sensitivity: 1, ...diameterDoubt('bore', asked.bore, asked, asked.boreStandard) },
    { name: 'spigot', sensitivity: -1, ...diameterDoubt('spigot', spigot, asked) },
  ]);
  return { kind: 'plain', target, clearance: mm(asked.bore - spigot), doubt };
}

export const plainJson = (asked: PlainAsked, { target, clearance, doubt }: PlainAnswer) => ({
  allowanceMm: -clearance,
  clearanceMm: clearance,
  targetSpigotMm: target.spigot,
  boreMm: asked.bore,
  spigotMm: asked.spigot ?? target.spigot,
  ...doubtJson(doubt),
  warnings: [],
});
