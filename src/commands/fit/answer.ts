// The figures of `lidwright fit` (target, band, doubt and chances, or why no spigot fits), what they warn of, and all of it as JSON.
import { lengthFigure } from '../../core/figures.ts';
import { priorSpread } from '../../core/learn/bias.ts';
import { type Combined, diameterDoubt } from '../../core/measure/uncertainty.ts';
import {
  allowanceBudget,
  type ClearanceDoubt,
  chancesOf,
  clearanceDoubt,
  plainDoubt,
} from '../../core/thread/chances.ts';
import {
  bandOf,
  type FitBounds,
  fitOf,
  fitWord,
  type Limits,
  limitsOf,
  plainTarget,
  SHALLOW,
  targetSpigot,
} from '../../core/thread/fit.ts';
import { mostOfBore } from '../../core/thread/milling.ts';
import { type FitRefusal, fitRefusalText, PARTS, partWord } from '../../core/thread/pair.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import type { FitQuestion, PlainQuestion, ThreadQuestion } from './options.ts';

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

/** The answer is no: why, and what is known all the same. */
const noFit = (why: FitRefusal, limits?: Limits) => ({ kind: 'no', why, limits }) as const;

/** Judges the spigot that was typed, even where no spigot gives the clearance wanted or runs. */
export function answerThread(question: ThreadQuestion) {
  const { pair, bore, bounds } = question;
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return noFit(limits);
  const doubt = doubtIn(question, limits, question.biasDoubt);
  const target = targetSpigot(pair, bore, mm(question.clearance - doubt.bias));
  if (target.kind !== 'target' && question.spigot === undefined) return noFit(target, limits);
  const spigot = question.spigot ?? (target.kind === 'target' ? target.spigot : bore);
  const fit = fitOf(pair, bore, spigot, bounds);
  if (fit.kind !== 'fit') return noFit(fit, limits);
  const running = bandOf(pair, bore, shifted(bounds, doubt.bias));
  const clearance = mm(fit.clearance + doubt.bias);
  const { biasDoubt } = question;
  return {
    kind: 'thread',
    limits,
    /** Null where no spigot gives the clearance wanted. */
    target: target.kind === 'target' ? target : null,
    /** Null where no spigot runs. */
    band: running.kind === 'band' ? running : null,
    /** Of the spigot given, or of the target, by geometry. */
    fit,
    /** The expected one: less what the shallower of two uncertain depths takes (core/thread/chances.ts). */
    clearance,
    word: fitWord(clearance, bounds),
    /** Of the clearance. */
    doubt,
    allowanceDoubt: allowanceBudget(measured(question)),
    chances: chancesOf(clearance, doubt, bounds),
    /** The same on a setup that no trial has taught anything about, as the bench has it for a first box; null where its doubt was given. */
    newSetup:
      biasDoubt === undefined
        ? chancesOf(clearance, doubtIn(question, limits, priorSpread('threaded')), bounds)
        : null,
  } as const;
}

export function answerPlain(question: PlainQuestion) {
  const target = plainTarget(question.bore, question.clearance);
  if (target.kind !== 'target') return noFit(target);
  const spigot = question.spigot ?? target.spigot;
  const doubt = plainDoubt(measured(question));
  return { kind: 'plain', target, spigot, clearance: mm(question.bore - spigot), doubt } as const;
}

export type NoFit = ReturnType<typeof noFit>;
export type ThreadAnswer = Exclude<ReturnType<typeof answerThread>, NoFit>;
export type PlainAnswer = Exclude<ReturnType<typeof answerPlain>, NoFit>;

const shownIn =
  (unit: LengthUnit) =>
  (length: number): string =>
    lengthFigure(mm(length), unit);

/** What a turner should know beside the figures: what is so, and what to do about it. */
export const warningsFor = (question: ThreadQuestion, answer: ThreadAnswer): readonly string[] => [
  ...cornerWarning(question, answer),
  ...crestWarnings(question, answer),
  ...engagementWarnings(answer),
  ...cutterWarning(question),
  ...detentWarnings(question),
  ...chanceWarning(answer),
];

function cornerWarning({ unit }: ThreadQuestion, { limits, fit }: ThreadAnswer): readonly string[] {
  const shown = shownIn(unit);
  if (limits.corner >= limits.limit) return [];
  const spoilt = Math.max(fit.allowance - limits.corner, 0);
  const now = spoilt > 0 ? `here they would bind by ${shown(spoilt)}` : 'this spigot stays clear of it';
  return [
    `The crests are narrow for the cutter's nose. As turned, with square corners, they would meet the round root at ${shown(limits.corner)} over the bore, before the limit of ${shown(limits.limit)}; ${now}. Break the corners of both crests with abrasive.`,
  ];
}

/** The least crest of the basic profile is P/8 wide (ISO 68-1 clause 5). */
const crestWarnings = (question: ThreadQuestion, { limits }: ThreadAnswer): readonly string[] =>
  PARTS.filter((part) => limits.crest[part] < question.pitch.length / 8).map(
    (part) =>
      `The crest left on the ${partWord(part)} is ${shownIn(question.unit)(limits.crest[part])} wide, less than an eighth of the pitch, and may crumble. Cut less deep, or harden it.`,
  );

function engagementWarnings({ fit, band: running }: ThreadAnswer): readonly string[] {
  if (fit.engagement <= 0)
    return ["This spigot isn't larger than the bore, so the threads don't reach each other."];
  const shallow = `The threads engage only ${engaged(fit.engagement)} of the basic height, so the lid may jump. Cut deeper.`;
  const cutOff = 'The loosest spigot that runs would no longer engage, so the band ends at the bore.';
  return [...(fit.engagement < SHALLOW ? [shallow] : []), ...(running?.endsAtBore ? [cutOff] : [])];
}

function cutterWarning({ cutter, bore, unit }: ThreadQuestion): readonly string[] {
  const shown = shownIn(unit);
  if (!cutter || cutter <= mostOfBore * bore) return [];
  const use = `Use one up to ${shown(mostOfBore * bore)}.`;
  if (cutter >= bore) return [`A cutter of ${shown(cutter)} doesn't go into this bore. ${use}`];
  return [`A cutter of ${shown(cutter)} is over two thirds of the bore and widens the groove. ${use}`];
}

function detentWarnings({ feed, pair, unit }: ThreadQuestion): readonly string[] {
  const shown = shownIn(unit);
  if (!feed) return [];
  return PARTS.flatMap((part) => {
    const count = pair[part].depth / feed;
    if (Math.abs(count - Math.round(count)) < 1e-6) return [];
    const [under, over] = [Math.floor(count), Math.ceil(count)];
    return [
      `The ${partWord(part)}'s depth of ${shown(pair[part].depth)} is not a whole number of detents: ${under} cut ${shown(under * feed)}, ${over} cut ${shown(over * feed)}.`,
    ];
  });
}

/** A chance of running under this is warned of; our own figure. */
const UNLIKELY = 0.4;

function chanceWarning({ chances, doubt, word }: ThreadAnswer): readonly string[] {
  if (word === 'seized') return ['This spigot would seize. Turn it smaller, or cut either thread deeper.'];
  if (chances.running >= UNLIKELY) return [];
  return [`It will probably not run first time. Biggest unknown: ${doubt.largest.name}.`];
}

/** Engagement as a share of the basic height: it can be more than all of it. */
export const engaged = (share: number): string => (share <= 0 ? 'none' : `${Math.round(share * 100)} %`);

const doubtJson = (doubt: Combined) => ({
  standardUncertaintyMm: doubt.standard,
  expandedUncertaintyMm: doubt.expanded95,
  degreesOfFreedom: Number.isFinite(doubt.degreesOfFreedom) ? doubt.degreesOfFreedom : null,
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

/** Lengths in mm; engagement and chances as shares. */
export function threadJson(question: ThreadQuestion, answer: ThreadAnswer) {
  const { limits, target, fit, doubt, allowanceDoubt, chances } = answer;
  return {
    ...limitsJson(limits),
    allowanceMm: fit.allowance,
    clearanceMm: answer.clearance,
    playMm: fit.play,
    targetSpigotMm: target?.spigot ?? null,
    bandMm: answer.band && [answer.band.low, answer.band.high],
    engagement: fit.engagement,
    fit: answer.word,
    boreMm: question.bore,
    spigotMm: mm(question.bore + fit.allowance),
    boreDepthMm: question.pair.female.depth,
    spigotDepthMm: question.pair.male.depth,
    ...doubtJson(doubt),
    allowanceExpandedUncertaintyMm: allowanceDoubt.expanded95,
    chances,
    newSetupChances: answer.newSetup,
    warnings: warningsFor(question, answer),
  };
}

export const plainJson = ({ bore }: PlainQuestion, { target, spigot, clearance, doubt }: PlainAnswer) => ({
  allowanceMm: -clearance,
  clearanceMm: clearance,
  targetSpigotMm: target.spigot,
  boreMm: bore,
  spigotMm: spigot,
  ...doubtJson(doubt),
  warnings: [],
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
