// The fit's answer for people: a short table, no finer than it is known, and the section of both threads where it can be drawn.

import { figure, fineFigure, lengthFigure, percent, pitchFigure, withDoubt } from '../core/figures.ts';
import type { FitWord } from '../core/thread/fit.ts';
import type { Tip } from '../core/thread/form.ts';
import { inDegrees, type Length, mm } from '../core/units.ts';
import { glyphsOf } from '../screen/glyphs.ts';
import { shorten, wrapped } from '../screen/text.ts';
import { sectionLines } from '../screen/thread-drawing.ts';
import type { PlainAnswer, ThreadAnswer } from './fit-answer.ts';
import type { PlainAsked, ThreadAsked } from './fit-asked.ts';

const NAME_WIDTH = 18;
const line = (name: string, text: string): string => `  ${name.padEnd(NAME_WIDTH)}${text}`;

const WORDS: Readonly<Record<FitWord, string>> = {
  seized: 'seizes',
  tight: 'is tight',
  running: 'runs',
  loose: 'is loose',
};

function tipWords(tip: Tip, unit: ThreadAsked['unit']): string {
  switch (tip.kind) {
    case 'sharp':
      return 'sharp';
    case 'flat':
      return `flat ${lengthFigure(tip.width, unit)}`;
    case 'radius':
      return `nose ${lengthFigure(tip.radius, unit)}`;
    default:
      return tip satisfies never;
  }
}

function pairWords({ pitch, pair, bore, unit }: ThreadAsked): string {
  const { female, male, angle, starts } = pair;
  const deep = (depth: Length): string => lengthFigure(depth, unit);
  const depths =
    female.depth === male.depth
      ? `both threads ${deep(female.depth)} deep`
      : `threads ${deep(female.depth)} deep in the bore and ${deep(male.depth)} on the spigot`;
  const tips = [...new Set([tipWords(female.tip, unit), tipWords(male.tip, unit)])].join(' and ');
  const many = starts > 1 ? `, ${starts} starts` : '';
  return `Bore ${lengthFigure(bore, unit)}, ${pitch.given.kind === 'tpi' ? '' : 'pitch '}${pitchFigure(pitch)}${many}, ${inDegrees(angle).toFixed(0)} degrees, ${tips} cutter, ${depths}.`;
}

/** Toward the middle of the band, so that no rounded end lies outside it. */
function bandWords({ unit }: ThreadAsked, { band }: ThreadAnswer): string {
  const step = unit === 'mm' ? 0.01 : 0.0001 * 25.4;
  const low = mm(Math.ceil(band.low / step - 1e-6) * step);
  const high = mm(Math.floor(band.high / step + 1e-6) * step);
  return `${figure(low, unit)} to ${lengthFigure(high, unit)}`;
}

const TOUCH_OFF: Readonly<Record<ThreadAsked['touchOffFrom'], string>> = {
  given: 'as given',
  feed: 'one detent of the feed',
  assumed: 'assumed',
};

export function threadLines(
  asked: ThreadAsked,
  answer: ThreadAnswer,
  columns: number | undefined,
): readonly string[] {
  const { fit, target, limits, doubt, allowanceDoubt, chances } = answer;
  const { unit, spigot } = asked;
  const known = (value: Length): string =>
    withDoubt(value, mm(doubt.expanded95), unit).replace(/ ±.*$/, ` ${unit}`);
  const measured = withDoubt(fit.allowance, mm(allowanceDoubt.expanded95), unit);
  const limitWords = limits.limitedBy === 'flank' ? 'where the flanks touch' : 'where a crest bottoms';
  const first = Object.entries(chances).map(([word, share]) => `${word} ${percent(share)}`);
  return [
    ...wrapped(pairWords(asked), columns ?? 100),
    '',
    line(
      'target spigot',
      `${withDoubt(target.spigot, mm(doubt.expanded95), unit)}, for ${lengthFigure(asked.clearance, unit)} of clearance`,
    ),
    line('runs from', bandWords(asked, answer)),
    ...(spigot === undefined
      ? []
      : [line('this spigot', `${lengthFigure(spigot, unit)} ${WORDS[fit.word]}`)]),
    line('over the bore', `${measured}, of a limit of ${known(limits.limit)} ${limitWords}`),
    line('clearance', withDoubt(fit.clearance, mm(doubt.expanded95), unit)),
    line(
      'play, engagement',
      `${known(fit.play)} along the axis, ${percent(fit.engagement)} of the basic height`,
    ),
    line('first trial', first.join(', ')),
    line('most doubt from', doubt.largest.name),
    line('touch-off', `within ${fineFigure(asked.touchOffWithin, unit)}, ${TOUCH_OFF[asked.touchOffFrom]}`),
    ...(columns === undefined ? [] : picture(asked, answer, columns)),
    ...notes(answer.warnings, columns ?? 100),
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
function picture({ pair, unit }: ThreadAsked, { fit }: ThreadAnswer, columns: number): readonly string[] {
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

export function plainLines(asked: PlainAsked, { target, clearance, doubt }: PlainAnswer): readonly string[] {
  const { unit } = asked;
  const half = mm(doubt.expanded95);
  const wanted = asked.clearance < 0 ? 'for a hold of' : 'for a clearance of';
  return [
    `Plain lid on a bore of ${lengthFigure(asked.bore, unit)}.`,
    '',
    line(
      'target spigot',
      `${withDoubt(target.spigot, half, unit)}, ${wanted} ${lengthFigure(mm(Math.abs(asked.clearance)), unit)}`,
    ),
    line('clearance', withDoubt(clearance, half, unit)),
    line('most doubt from', doubt.largest.name),
  ];
}
