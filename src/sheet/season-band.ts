// The humidity in which the pair runs, as bars from 0 to 100 %: one for each equation, since a seasonal forecast is a range.
import { type JobSeason, MADE } from '../core/bench/seasons.ts';
import { asKnown } from '../core/figures.ts';
import { inPercent, type Length, type LengthUnit } from '../core/units.ts';
import type { Season } from '../core/wood/season.ts';
import { type Drawing, line, middled, rectangle, text } from './svg.ts';

const WIDTH = 186;
/** Names on the left, the scale in the middle, the ranges in words on the right. */
const [LEFT, RIGHT, WORDS] = [46, 134, 138];
const [TOP, ROW, BAR] = [5.6, 4.6, 3.2];
const NAMES = { handbook: 'Wood Handbook equation', newer: 'newer handbook equation' } as const;
/** The second row of an equation, where sources differ about the wood. */
const OTHER = 'with other wood figures';

const x = (percent: number): number => LEFT + ((RIGHT - LEFT) * percent) / 100;

const percents = (season: Extract<Season, { kind: 'runs' }>): readonly [number, number] => [
  inPercent(season.from.humidity),
  inPercent(season.to.humidity),
];

/** The range in words; an end at which no lid binds is not shown. */
function rangeWords(season: Season, half: Length, unit: LengthUnit): string {
  switch (season.kind) {
    case 'never':
      return `never; at best ${asKnown(season.short, half, unit)} short`;
    case 'out-of-domain':
      return 'outside its range';
    case 'runs': {
      const [from, to] = percents(season).map((end) => end.toFixed(0));
      if (!season.from.binds && !season.to.binds) return 'in any air';
      if (!season.from.binds) return `up to ${to} %`;
      return season.to.binds ? `${from} to ${to} %` : `from ${from} % up`;
    }
    default:
      return season satisfies never;
  }
}

const nameOf = ({ by }: JobSeason, before: JobSeason | undefined): string =>
  before?.by === by ? OTHER : NAMES[by];

function row(season: Season, at: number, name: string, range: string): string {
  const y = TOP + at * ROW;
  const words = text(1, y + 2.7, name) + text(WORDS, y + 2.7, range);
  if (season.kind !== 'runs') return words;
  const [from, to] = percents(season);
  return words + rectangle(x(from), y, x(to) - x(from), BAR, 'runs');
}

function scale(foot: number): string {
  const ticks = [0, 20, 40, 60, 80, 100].map(
    (percent) =>
      line(x(percent), foot, x(percent), foot + 1.2) + middled(x(percent), foot + 4.2, `${percent} %`),
  );
  return line(LEFT, foot, RIGHT, foot) + ticks.join('');
}

/** Where the air stood when the pair was made, as it is assumed to have been. */
function made(foot: number): string {
  const at = x(inPercent(MADE.humidity));
  const words = `made at ${inPercent(MADE.humidity).toFixed(0)} % (assumed)`;
  return line(at, TOP - 1.6, at, foot, { class: 'made' }) + middled(at, TOP - 2.2, words);
}

/** `half`: how far the clearance may be out, which nothing said of it is finer than. */
export function seasonDrawing(seasons: readonly JobSeason[], half: Length, unit: LengthUnit): Drawing {
  const foot = TOP + seasons.length * ROW;
  const ranges = seasons.map(({ season }) => rangeWords(season, half, unit));
  const names = seasons.map((season, at) => nameOf(season, seasons[at - 1]));
  const rows = seasons.map(({ season }, at) => row(season, at, names[at] ?? '', ranges[at] ?? ''));
  const said = names.map((name, at) => `${name}: ${ranges[at]}`);
  const alt = `Room humidity in which the lid runs: ${said.join('; ')}.`;
  const content = scale(foot) + rows.join('') + made(foot);
  return { width: WIDTH, height: foot + 5, alt, content };
}
