// `lidwright season`: the humidity in which a lid runs, the clearance a range of humidity asks for, and moisture from air; each figure only as fine as it is known.
import { cutLength, cutLengthUp } from '../core/figures.ts';
import { capitalised } from '../core/safe-text.ts';
import { type Humidity, inPercent, type LengthUnit, mm } from '../core/units.ts';
import { equilibriumMoisture, type OutOfDomain, outOfDomainText } from '../core/wood/moisture.ts';
import type { Made, Season } from '../core/wood/season.ts';
import type { Figures } from '../core/wood/woods.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { askOptions, OptionReader, settingOptions } from './options.ts';
import { answer, wrongUse } from './output.ts';
import {
  answerSeason,
  coefficientsSuffice,
  isYes,
  neededBySources,
  type SeasonAnswer,
  seasonJson,
  worse,
} from './season/answer.ts';
import {
  type Air,
  airQuantity,
  type NamedWood,
  type PartQuestion,
  readSeason,
  SEASON_OPTIONS,
  type SeasonQuestion,
} from './season/options.ts';

type Mark = { readonly word: string; readonly at: Humidity };

const WIDEST = 66;
const NARROWEST = 20;
const INDENT = '  ';

const runsAt = (season: Season, at: number): boolean =>
  season.kind === 'runs' && at >= season.from.humidity && at <= season.to.humidity;

/** Full where the lid runs by every equation, half where one of them says so, a dot where none does. */
function cell(seasons: readonly Season[], at: number): string {
  const agreeing = seasons.filter((season) => runsAt(season, at)).length;
  if (agreeing === 0) return '·';
  return agreeing === seasons.length ? '█' : '▒';
}

const columnOf = (share: number, width: number): number => Math.min(width - 1, Math.floor(share * width));

function markLine({ word, at }: Mark, width: number): string {
  const column = columnOf(at, width);
  const text = `${word} ${inPercent(at).toFixed(0)} %`;
  const left = column + 2 + text.length > width;
  return INDENT + (left ? `${`${text} `.padStart(column)}^` : `${' '.repeat(column)}^ ${text}`);
}

/** The band, its scale and its marks, no wider than the columns there are. */
export function bandLines(
  seasons: readonly Season[],
  marks: readonly Mark[],
  columns: number,
): readonly string[] {
  const width = Math.max(NARROWEST, Math.min(WIDEST, columns - 2 * INDENT.length));
  const band = Array.from({ length: width }, (_, at) => cell(seasons, (at + 0.5) / width)).join('');
  const scale = `0 %${'50 %'.padStart(Math.round(width / 2) - 1)}`.padEnd(width - 5);
  return [
    `${INDENT}${scale}100 %`,
    INDENT + band,
    ...marks.map((mark) => markLine(mark, width)),
    `${INDENT}█ runs by both equations  ▒ by one of them  · doesn't`,
  ];
}

const GRAIN_WORDS = {
  end: 'axis along the grain',
  flat: 'axis across the grain, flatsawn face',
  quarter: 'axis across the grain, quartersawn face',
} as const;
const STATUS_WORDS = { read: ', read', memory: ', from memory', none: '' } as const;

const percent = (humidity: Humidity): string => inPercent(humidity).toFixed(0);

function spread(one: number, two: number): string {
  const [low, high] = [Math.min(one, two).toFixed(1), Math.max(one, two).toFixed(1)];
  return low === high ? low : `${low} to ${high}`;
}

const partWords = ({ wood, grain }: PartQuestion): string =>
  `${wood.name}${wood.botanical === null ? '' : ` (${wood.botanical})`}, ${GRAIN_WORDS[grain]}`;

const alike = ({ body, lid }: SeasonQuestion): boolean =>
  body.wood.figures === lid.wood.figures && body.grain === lid.grain && body.made === lid.made;

function partsLine(question: SeasonQuestion): string {
  if (alike(question)) return `Body and lid: ${partWords(question.body)}.`;
  return `Body: ${partWords(question.body)}. Lid: ${partWords(question.lid)}.`;
}

function madeLine(question: SeasonQuestion, { handbook, newer }: SeasonAnswer): string {
  const bore = spread(handbook.made.bore, newer.made.bore);
  const spigot = spread(handbook.made.spigot, newer.made.spigot);
  const wet = bore === spigot ? `${bore} %` : `${bore} % (bore) and ${spigot} % (spigot)`;
  const has = question.clearanceGiven
    ? ` with ${cutLength(question.pair.clearance, question.unit)} of clearance`
    : '';
  return `A thread of ${cutLength(question.pair.diameter, question.unit)}${has}, made at ${wet} moisture.`;
}

function rangeWords(season: SeasonAnswer['handbook']['season'], unit: LengthUnit): string {
  if (season.kind === 'runs') return `${percent(season.from.humidity)} to ${percent(season.to.humidity)} %`;
  return `never (at best ${cutLength(season.short, unit)} too tight, near ${percent(season.bestAt)} %)`;
}

function runsLine(question: SeasonQuestion, { handbook, newer }: SeasonAnswer): string {
  const each = `${rangeWords(handbook.season, question.unit)} by the Handbook's equation, ${rangeWords(newer.season, question.unit)} by its newer one`;
  const room = `In a room at ${question.room.temperature.toFixed(0)} C`;
  if (handbook.season.kind === 'never' && newer.season.kind === 'never')
    return `${room} the lid runs at no humidity: ${each}. Give it more clearance, or use woods and moistures that are more alike.`;
  return `${room} the lid runs, in any position, at these humidities: ${each}. A seasonal forecast is a range, not a point.`;
}

function yearLine(question: SeasonQuestion, answer: SeasonAnswer): string {
  const { least, needed } = worse(answer);
  const [from, to] = [percent(question.range.from), percent(question.range.to)];
  const year = `From ${from} to ${to} %${question.rangeGiven ? '' : ' (a typical house over a year, from memory)'}`;
  const make = `Make it with ${cutLengthUp(needed, question.unit)} of clearance, of which ${cutLength(question.wanted, question.unit)} remains at the worst.`;
  if (!question.clearanceGiven) return `${year} the gap is smallest at ${percent(least.at)} %. ${make}`;
  if (least.gap >= question.running)
    return `${year} it runs throughout. The gap is smallest (${cutLength(least.gap, question.unit)}) at ${percent(least.at)} %.`;
  if (least.gap >= 0)
    return `${year} it gets tight: ${cutLength(least.gap, question.unit)} is left at ${percent(least.at)} %, and a lid runs from ${cutLength(question.running, question.unit)}. ${make}`;
  return `${year} it binds, worst at ${percent(least.at)} % (by ${cutLength(mm(-least.gap), question.unit)}). ${make}`;
}

function sourcesLine(question: SeasonQuestion, answer: SeasonAnswer): readonly string[] {
  const [least, most] = neededBySources(question, answer).map((needed) => cutLengthUp(needed, question.unit));
  if (least === most) return [];
  return [`Sources differ about this wood: by their figures it needs ${least} to ${most} of clearance.`];
}

function todayLine({ unit }: SeasonQuestion, { handbook, newer }: SeasonAnswer): readonly string[] {
  if (!handbook.now || !newer.now) return [];
  const gap = mm(Math.min(handbook.now.gap, newer.now.gap));
  return [
    `In the room's present air the smallest gap is ${cutLength(gap, unit)}${gap < 0 ? ', so it binds.' : '.'}`,
  ];
}

function closedLine(question: SeasonQuestion): readonly string[] {
  if (!alike(question)) return [];
  return [
    'When it is closed with the grain in line, the gap stays as made. The tight spot is a quarter turn from closed, so it binds while you unscrew it.',
  ];
}

const figureWords = ({ radial, tangential, source, status, note }: Figures): string =>
  `radial ${radial.shrinkage.toFixed(1)} %, tangential ${tangential.shrinkage.toFixed(1)} % (${source}${STATUS_WORDS[status]}${note === null ? '' : `; ${note}`})`;

const woodLines = ({ name, figures, others }: NamedWood): readonly string[] => [
  `Shrinkage of ${name}: ${figureWords(figures)}.`,
  ...others.map((other) => `  another source: ${figureWords(other)}.`),
];

function figuresLines({ body, lid }: SeasonQuestion): readonly string[] {
  return body.wood.figures === lid.wood.figures
    ? woodLines(body.wood)
    : [...woodLines(body.wood), ...woodLines(lid.wood)];
}

function lawLine(answer: SeasonAnswer): string {
  return coefficientsSuffice(answer)
    ? 'All of this is within 6 to 14 % moisture, where the coefficients are valid.'
    : 'Some of this is outside 6 to 14 % moisture, where the coefficients are not valid. That part is worked out from 30 % as the start of shrinkage, and is less certain.';
}

const markOf = (word: string, made: Made): readonly Mark[] =>
  made.kind === 'air' ? [{ word, at: made.humidity }] : [];

function marksOf(question: SeasonQuestion): readonly Mark[] {
  const { body, lid, room } = question;
  const now = room.humidity === undefined ? [] : [{ word: 'room', at: room.humidity }];
  if (body.made === lid.made) return [...markOf('made', body.made), ...now];
  return [...markOf('body made', body.made), ...markOf('lid made', lid.made), ...now];
}

/** Every line of the answer; the band is drawn when `columns` says how wide a terminal is. */
function linesOf(
  question: SeasonQuestion,
  answer: SeasonAnswer,
  columns: number | undefined,
): readonly string[] {
  const seasons = [answer.handbook, answer.newer].map((by) => by.season);
  const drawn = question.clearanceGiven && columns !== undefined;
  return [
    partsLine(question),
    madeLine(question, answer),
    ...(question.clearanceGiven ? [runsLine(question, answer)] : []),
    ...(drawn ? bandLines(seasons, marksOf(question), columns) : []),
    yearLine(question, answer),
    ...sourcesLine(question, answer),
    ...(question.clearanceGiven ? todayLine(question, answer) : []),
    ...(question.clearanceGiven ? closedLine(question) : []),
    lawLine(answer),
    ...figuresLines(question),
    'This assumes that both parts have settled in the air given, which takes wood weeks, not hours (common practice, no source).',
  ];
}

const outOfDomain = (why: OutOfDomain, output: Output): ExitCode =>
  wrongUse('season', [`${capitalised(outOfDomainText(why))}.`], output);

/** `--emc`: the moisture that wood settles at in this air, by both equations. */
function tellMoisture(air: Air, typed: Typed, output: Output): ExitCode {
  const [handbook, newer] = [equilibriumMoisture('handbook', air), equilibriumMoisture('newer', air)];
  if (!handbook.ok) return outOfDomain(handbook.why, output);
  if (!newer.ok) return outOfDomain(newer.why, output);
  const mc = { handbook: handbook.value, newer: newer.value };
  const humidityRh = inPercent(air.humidity);
  return answer(typed, output, { mc, temperatureC: air.temperature, humidityRh }, [
    `In air of ${air.temperature.toFixed(0)} C and ${humidityRh.toFixed(0)} % humidity wood settles at ${mc.handbook.toFixed(1)} % moisture by the Handbook's equation, ${mc.newer.toFixed(1)} % by its newer one.`,
  ]);
}

function run(typed: Typed, output: Output): ExitCode {
  const options = new OptionReader(typed);
  if (options.isTyped('emc')) {
    const air = options.one('emc', airQuantity);
    return air ? tellMoisture(air, typed, output) : wrongUse('season', options.errors, output);
  }
  const question = readSeason(options);
  if (!question) return wrongUse('season', options.errors, output);
  const season = answerSeason(question);
  if (season.kind === 'out-of-domain') return outOfDomain(season, output);
  const lines = linesOf(question, season, output.terminal ? output.columns : undefined);
  answer(typed, output, seasonJson(question, season), lines);
  return isYes(question, season) ? 0 : 1;
}

export const seasonCommand: CommandSpec = {
  name: 'season',
  summary: 'forecast the humidity in which a lid runs, and the clearance that a range of humidity needs',
  options: [
    ...askOptions(SEASON_OPTIONS),
    ...settingOptions(['unit']),
    { flags: '--json', about: 'print JSON: lengths in mm, humidity and moisture in percent' },
  ],
  example: {
    line: 'season --wood "maple, sugar" --diameter 52mm --clearance 0.2mm --made 20C,45% --room 20C',
    shows: 'the lid runs between about 38 and 52 % humidity; also the clearance that a whole year needs',
  },
  run,
};
