// The figures of `lidwright fit`: target, band, fit, doubt and chances, or why no spigot fits.
import { priorSpread } from '../../core/learn/bias.ts';
import { type Combined, diameterDoubt } from '../../core/measure/uncertainty.ts';
import {
  allowanceBudget,
  type Chances,
  type ClearanceDoubt,
  chancesOf,
  clearanceDoubt,
  plainDoubt,
} from '../../core/thread/chances.ts';
import {
  type Band,
  bandOf,
  type Fit,
  type FitBounds,
  type FitWord,
  fitOf,
  fitWord,
  type Limits,
  limitsOf,
  plainTarget,
  type Target,
  targetSpigot,
} from '../../core/thread/fit.ts';
import type { FitRefusal } from '../../core/thread/pair.ts';
import { type Length, mm } from '../../core/units.ts';
import type { FitQuestion, PlainQuestion, ThreadQuestion } from './options.ts';

export interface ThreadAnswer {
  readonly kind: 'thread';
  readonly limits: Limits;
  /** Null where no spigot gives the clearance wanted. */
  readonly target: Target | null;
  /** Null where no spigot runs. */
  readonly band: Band | null;
  /** Of the spigot given, or of the target, by geometry. */
  readonly fit: Fit;
  /** The expected one: less what the shallower of two uncertain depths takes (core/thread/chances.ts). */
  readonly clearance: Length;
  readonly word: FitWord;
  /** Of the clearance. */
  readonly doubt: Combined;
  readonly allowanceDoubt: Combined;
  readonly chances: Chances;
  /** The same on a setup that no trial has taught anything about, as the bench has it for a first box; null where its doubt was given. */
  readonly newSetup: Chances | null;
}

export interface PlainAnswer {
  readonly kind: 'plain';
  readonly target: Target;
  readonly clearance: Length;
  readonly doubt: Combined;
}

/** The answer is no: why, and what is known all the same. */
export interface NoFit {
  readonly kind: 'no';
  readonly why: FitRefusal;
  readonly limits: Limits | undefined;
}

const endless = Number.POSITIVE_INFINITY;

/** Both diameters as well as the caliper, and the capture of the bore where there was one, know them. */
const measured = ({ caliper, boreStandard: standard }: FitQuestion) => ({
  bore: diameterDoubt({
    name: 'bore',
    caliper,
    scatter: standard === undefined ? undefined : { standard, degreesOfFreedom: endless },
  }),
  spigot: diameterDoubt({ name: 'spigot', caliper }),
});

function doubtIn(question: ThreadQuestion, limits: Limits, biasSpread: Length | undefined): ClearanceDoubt {
  const { pair, touchOffWithin: within } = question;
  return clearanceDoubt({
    pair,
    limits,
    ...measured(question),
    touchOff: { female: within, male: within },
    biasSpread,
  });
}

/** Bounds on the clearance by geometry, so that the expected one lies in the turner's own. */
const shifted = ({ runningFrom, looseFrom }: FitBounds, bias: Length): FitBounds => ({
  runningFrom: mm(runningFrom - bias),
  looseFrom: mm(looseFrom - bias),
});

/** Judges the spigot that was typed, even where no spigot gives the clearance wanted or runs. */
export function answerThread(question: ThreadQuestion): ThreadAnswer | NoFit {
  const { pair, bore, bounds } = question;
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return { kind: 'no', why: limits, limits: undefined };
  const no = (why: FitRefusal): NoFit => ({ kind: 'no', why, limits });
  const doubt = doubtIn(question, limits, question.biasDoubt);
  const target = targetSpigot(pair, bore, mm(question.clearance - doubt.bias));
  if (target.kind !== 'target' && question.spigot === undefined) return no(target);
  const spigot = question.spigot ?? (target.kind === 'target' ? target.spigot : bore);
  const fit = fitOf(pair, bore, spigot, bounds);
  if (fit.kind !== 'fit') return no(fit);
  const running = bandOf(pair, bore, shifted(bounds, doubt.bias));
  const clearance = mm(fit.clearance + doubt.bias);
  return {
    kind: 'thread',
    limits,
    target: target.kind === 'target' ? target : null,
    band: running.kind === 'band' ? running : null,
    fit,
    clearance,
    word: fitWord(clearance, bounds),
    doubt,
    allowanceDoubt: allowanceBudget(measured(question)),
    chances: chancesOf(clearance, doubt, bounds),
    newSetup:
      question.biasDoubt === undefined
        ? chancesOf(clearance, doubtIn(question, limits, priorSpread('threaded')), bounds)
        : null,
  };
}

export function answerPlain(question: PlainQuestion): PlainAnswer | NoFit {
  const target = plainTarget(question.bore, question.clearance);
  if (target.kind !== 'target') return { kind: 'no', why: target, limits: undefined };
  const spigot = question.spigot ?? target.spigot;
  const doubt = plainDoubt(measured(question));
  return { kind: 'plain', target, clearance: mm(question.bore - spigot), doubt };
}
