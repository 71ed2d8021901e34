// The answer of `lidwright fit` in words, as a picture and as JSON.
import {
  asKnown,
  band,
  fineFigure,
  lengthFigure,
  percent,
  pitchFigure,
  tipFigure,
  withDoubt,
} from '../../core/figures.ts';
import type { Combined } from '../../core/measure/uncertainty.ts';
import type { Limits } from '../../core/thread/fit.ts';
import { type FitWord, SHALLOW } from '../../core/thread/fit.ts';
import { mostOfBore } from '../../core/thread/milling.ts';
import { fitRefusalText, PARTS, partWord } from '../../core/thread/pair.ts';
import { inDegrees, type Length, type LengthUnit, mm } from '../../core/units.ts';
import { glyphsOf } from '../../screen/glyphs.ts';
import { sectionLines } from '../../screen/panels/section.ts';
import { shorten, wrapped } from '../../screen/text.ts';
import { answerPlain, answerThread, type NoFit, type PlainAnswer, type ThreadAnswer } from './answer.ts';
import type { FitQuestion, PlainQuestion, ThreadQuestion } from './options.ts';

const shownIn =
  (unit: LengthUnit) =>
  (length: number): string =>
    lengthFigure(mm(length), unit);

/** What a turner should know beside the figures: what is so, and what to do about it. */
const warningsFor = (question: ThreadQuestion, answer: ThreadAnswer): readonly string[] => [
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
const engaged = (share: number): string => (share <= 0 ? 'none' : `${Math.round(share * 100)} %`);

function bandWords({ unit }: ThreadQuestion, { band: running, doubt }: ThreadAnswer): string {
  if (!running) return 'none: a lid runs with more clearance than these depths leave';
  return band(running.low, running.high, unit, mm(doubt.expanded95));
}

function targetWords({ clearance, unit }: ThreadQuestion, { target, doubt }: ThreadAnswer): string {
  const half = mm(doubt.expanded95);
  const wanted = `${asKnown(clearance, half, unit)} of clearance`;
  return target
    ? `${withDoubt(target.spigot, half, unit)}, for ${wanted}`
    : `none gives ${wanted} with these depths`;
}

const NAME_WIDTH = 18;
const line = (name: string, text: string): string => `  ${name.padEnd(NAME_WIDTH)}${text}`;

const WORDS: Readonly<Record<FitWord, string>> = {
  seized: 'seizes',
  tight: 'is tight',
  running: 'runs',
  loose: 'is loose',
};

const TOUCH_OFF: Readonly<Record<ThreadQuestion['touchOffFrom'], string>> = {
  given: 'as given',
  feed: 'one detent of the feed',
  assumed: 'assumed',
};

function pairWords({ pitch, pair, bore, unit, depthPlanned }: ThreadQuestion): string {
  const { female, male, angle, starts } = pair;
  const deep = (depth: Length): string => lengthFigure(depth, unit);
  const depths =
    female.depth === male.depth
      ? `both threads ${deep(female.depth)} deep`
      : `threads ${deep(female.depth)} deep in the bore and ${deep(male.depth)} on the spigot`;
  const planned = depthPlanned ? ' as planned for this pitch' : '';
  const tips = [...new Set([tipFigure(female.tip, unit), tipFigure(male.tip, unit)])].join(' and ');
  const many = starts > 1 ? `, ${starts} starts` : '';
  return `Bore ${lengthFigure(bore, unit)}, ${pitch.given.kind === 'tpi' ? '' : 'pitch '}${pitchFigure(pitch)}${many}, ${inDegrees(angle).toFixed(0)} degrees, ${tips} cutter, ${depths}${planned}.`;
}

function threadLines(
  question: ThreadQuestion,
  answer: ThreadAnswer,
  columns: number | undefined,
): readonly string[] {
  const { fit, limits, doubt, allowanceDoubt, chances } = answer;
  const { unit, spigot } = question;
  const half = mm(doubt.expanded95);
  const known = (value: Length): string => asKnown(value, half, unit);
  const touching = limits.limitedBy === 'flank' ? 'flanks touch' : 'a crest bottoms';
  const first = Object.entries(chances).map(([word, share]) => `${word} ${percent(share)}`);
  return [
    ...wrapped(pairWords(question), columns ?? 100),
    '',
    line('target spigot', targetWords(question, answer)),
    line('runs from', bandWords(question, answer)),
    ...(spigot === undefined
      ? []
      : [line('this spigot', `${lengthFigure(spigot, unit)} ${WORDS[answer.word]}`)]),
    line(
      'over the bore',
      `${withDoubt(fit.allowance, mm(allowanceDoubt.expanded95), unit)} (${touching} at ${known(limits.limit)})`,
    ),
    line('clearance', withDoubt(answer.clearance, half, unit)),
    line(
      'play, engagement',
      `${fit.play > 0 ? known(fit.play) : 'none'} along the axis, ${engaged(fit.engagement)} of the basic height`,
    ),
    line('first trial', first.join(', ')),
    ...(answer.newSetup
      ? [line('new setup', `running ${percent(answer.newSetup.running)} before any trial`)]
      : []),
    line('biggest unknown', doubt.largest.name),
    line(
      'touch-off',
      `within ${fineFigure(question.touchOffWithin, unit)}, ${TOUCH_OFF[question.touchOffFrom]}`,
    ),
    ...(columns === undefined ? [] : picture(question, answer, columns)),
    ...notes(warningsFor(question, answer), columns ?? 100),
  ];
}

const notes = (warnings: readonly string[], columns: number): readonly string[] =>
  warnings.flatMap((warning) => [
    '',
    ...wrapped(warning, Math.max(20, columns - 2)).map((text) => `  ${text}`),
  ]);

const PICTURE_COLUMNS = 92;
const PICTURE_ROWS = 14;

/** The section as the bench screen draws it. */
function picture({ pair, unit }: ThreadQuestion, { fit }: ThreadAnswer, columns: number): readonly string[] {
  const gap = fit.clearance < 0 ? 'overlap' : 'clearance';
  const notes = [
    'above, solid: the bored part',
    'below, hatched: the spigot',
    `between the flanks: ${lengthFigure(mm(Math.abs(fit.clearance)), unit)} of ${gap} on the diameter`,
  ];
  const model = {
    planned: pair,
    cut: pair.male.depth,
    cutting: 'male',
    allowance: fit.allowance,
    notes,
  } as const;
  const width = Math.min(columns, PICTURE_COLUMNS) - 2;
  const drawing = sectionLines(model, width, PICTURE_ROWS - 1, glyphsOf(process.env));
  return ['', ...drawing.map((line) => line.trimEnd()), shorten(notes.join(', '), width + 1)];
}

function plainLines(
  { unit, clearance: wanted, bore }: PlainQuestion,
  { target, clearance, doubt }: PlainAnswer,
): readonly string[] {
  const half = mm(doubt.expanded95);
  const why = wanted < 0 ? 'to hold by' : 'for a clearance of';
  return [
    `Plain lid on a bore of ${lengthFigure(bore, unit)}.`,
    '',
    line(
      'target spigot',
      `${withDoubt(target.spigot, half, unit)}, ${why} ${asKnown(mm(Math.abs(wanted)), half, unit)}`,
    ),
    line('clearance', withDoubt(clearance, half, unit)),
    line('biggest unknown', doubt.largest.name),
  ];
}

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
function threadJson(question: ThreadQuestion, answer: ThreadAnswer) {
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

const plainJson = (question: PlainQuestion, { target, clearance, doubt }: PlainAnswer) => ({
  allowanceMm: -clearance,
  clearanceMm: clearance,
  targetSpigotMm: target.spigot,
  boreMm: question.bore,
  spigotMm: question.spigot ?? target.spigot,
  ...doubtJson(doubt),
  warnings: [],
});

/** No fit as JSON: every length that is still known, and the reason among the warnings. */
const noFitJson = ({ why, limits }: NoFit) => ({
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

/** The answer in both forms; a refusal has the reason and the nearest that would do in place of lines. */
interface FitReport {
  readonly json: object;
  readonly lines: readonly string[];
  readonly refusal?: string;
}

const refused = (no: NoFit): FitReport => ({
  json: noFitJson(no),
  lines: [],
  refusal: `No spigot fits: ${fitRefusalText(no.why)}.`,
});

/** `columns` is the width of the terminal that a picture is drawn for; undefined draws none. */
export function fitReport(question: FitQuestion, columns: number | undefined): FitReport {
  if (question.kind === 'plain') {
    const plain = answerPlain(question);
    if (plain.kind === 'no') return refused(plain);
    return { json: plainJson(question, plain), lines: plainLines(question, plain) };
  }
  const thread = answerThread(question);
  if (thread.kind === 'no') return refused(thread);
  return { json: threadJson(question, thread), lines: threadLines(question, thread, columns) };
}
