// `lidwright fit`: the spigot for a bore, its band, what any other spigot would give, and how sure all that is, in words and as a picture.
import {
  asKnown,
  band,
  fineFigure,
  lengthFigure,
  percent,
  pitchFigure,
  tipFigure,
  withDoubt,
} from '../core/figures.ts';
import type { FitWord } from '../core/thread/fit.ts';
import { fitRefusalText } from '../core/thread/pair.ts';
import { inDegrees, type Length, mm } from '../core/units.ts';
import { glyphsOf } from '../screen/glyphs.ts';
import { sectionLines } from '../screen/panels/section.ts';
import { shorten, wrapped } from '../screen/text.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import {
  answerPlain,
  answerThread,
  engaged,
  type NoFit,
  noFitJson,
  type PlainAnswer,
  plainJson,
  type ThreadAnswer,
  threadJson,
  warningsFor,
} from './fit/answer.ts';
import { FIT_OPTIONS, type PlainQuestion, readFit, type ThreadQuestion } from './fit/options.ts';
import { askOptions, JSON_OPTION, OptionReader, settingOptions } from './options.ts';
import { answer, endWith, wrongUse } from './output.ts';

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

function run(typed: Typed, output: Output): ExitCode {
  const options = new OptionReader(typed);
  const question = readFit(options, typed.options.plain === true);
  if (!question) return wrongUse('fit', options.errors, output);
  return question.kind === 'plain' ? tellPlain(question, typed, output) : tellThread(question, typed, output);
}

function tellPlain(question: PlainQuestion, typed: Typed, output: Output): ExitCode {
  const plain = answerPlain(question);
  if (plain.kind === 'no') return tellNo(plain, typed, output);
  return answer(typed, output, plainJson(question, plain), plainLines(question, plain));
}

function tellThread(question: ThreadQuestion, typed: Typed, output: Output): ExitCode {
  const thread = answerThread(question);
  if (thread.kind === 'no') return tellNo(thread, typed, output);
  const lines = threadLines(question, thread, output.terminal ? output.columns : undefined);
  return answer(typed, output, threadJson(question, thread), lines);
}

/** A refusal has the reason and the nearest that would do in place of lines. */
function tellNo(no: NoFit, typed: Typed, output: Output): ExitCode {
  answer(typed, output, noFitJson(no), []);
  return typed.options.json === true ? 1 : endWith(output, 1, `No spigot fits: ${fitRefusalText(no.why)}.`);
}

export const fitCommand: CommandSpec = {
  name: 'fit',
  summary: 'work out the spigot for a threaded bore, and the chance of each fit',
  options: [
    ...askOptions(FIT_OPTIONS),
    { flags: '--plain', about: 'lid without a thread; a clearance below zero makes it hold by friction' },
    ...settingOptions(['unit']),
    JSON_OPTION,
  ],
  example: {
    line: 'fit --bore 50mm --pitch 16tpi --depth 1mm --clearance 0.15mm',
    shows: 'a spigot of 51.10 mm, 1.10 mm over the bore, and how likely it is to run at the first trial',
  },
  run,
};
