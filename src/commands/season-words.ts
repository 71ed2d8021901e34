// The seasons' answer in plain sentences, no finer than the equations warrant.
import { type Humidity, inPercent, inUnit, type Length, type LengthUnit, mm } from '../core/units.ts';
import type { Made, Season } from '../core/wood/season.ts';
import type { Figures } from '../core/wood/woods.ts';
import { type ByEquation, coefficientsSuffice, graver, type SeasonAnswer } from './season-answer.ts';
import type { NamedWood, PartAsked, SeasonAsked } from './season-asked.ts';
import { bandLines, type Mark } from './season-band.ts';

const GRAIN_WORDS = {
  end: 'axis along the grain',
  flat: 'axis across the grain, flatsawn face',
  quarter: 'axis across the grain, quartersawn face',
} as const;
const STATUS_WORDS = { read: ', read', memory: ', from memory', none: '' } as const;

/** Hundredths of a millimetre or thousandths of an inch: a forecast is no finer. */
const DECIMALS = { mm: 2, in: 3 } as const;

const shown = (length: Length, unit: LengthUnit): string =>
  `${inUnit(length, unit).toFixed(DECIMALS[unit])} ${unit}`;

/** A clearance that has to be reached is rounded up. */
function shownUp(length: Length, unit: LengthUnit): string {
  const fine = 10 ** DECIMALS[unit];
  const up = Math.ceil(inUnit(length, unit) * fine - 1e-4) / fine;
  return `${up.toFixed(DECIMALS[unit])} ${unit}`;
}

const percent = (humidity: Humidity): string => inPercent(humidity).toFixed(0);

function spread(one: number, two: number): string {
  const [low, high] = [Math.min(one, two).toFixed(1), Math.max(one, two).toFixed(1)];
  return low === high ? low : `${low} to ${high}`;
}

const partWords = ({ wood, grain }: PartAsked): string =>
  `${wood.name}${wood.botanical === null ? '' : ` (${wood.botanical})`}, ${GRAIN_WORDS[grain]}`;

const alike = ({ body, lid }: SeasonAsked): boolean =>
  body.wood.figures === lid.wood.figures && body.grain === lid.grain && body.made === lid.made;

function partsLine(asked: SeasonAsked): string {
  if (alike(asked)) return `Body and lid: ${partWords(asked.body)}.`;
  return `Body: ${partWords(asked.body)}. Lid: ${partWords(asked.lid)}.`;
}

function madeLine(asked: SeasonAsked, { handbook, newer }: SeasonAnswer): string {
  const bore = spread(handbook.made.bore, newer.made.bore);
  const spigot = spread(handbook.made.spigot, newer.made.spigot);
  const wet = bore === spigot ? `${bore} %` : `${bore} % in the bore and ${spigot} % in the spigot`;
  const has = asked.clearanceGiven ? `, ${shown(asked.pair.clearance, asked.unit)} of clearance` : '';
  return `A thread of ${shown(asked.pair.diameter, asked.unit)}${has}, made at a moisture of ${wet}.`;
}

function rangeWords(season: Exclude<Season, { kind: 'out-of-domain' }>, unit: LengthUnit): string {
  if (season.kind === 'runs') return `${percent(season.from.humidity)} to ${percent(season.to.humidity)} %`;
  return `never, ${shown(mm(-season.bestGap), unit)} short at best near ${percent(season.bestAt)} %`;
}

function runsLine(asked: SeasonAsked, { handbook, newer }: SeasonAnswer): string {
  const each = `${rangeWords(handbook.season, asked.unit)} by the Handbook's equation; ${rangeWords(newer.season, asked.unit)} by its newer one`;
  const room = `In a room at ${asked.room.temperature.toFixed(0)} C`;
  if (handbook.season.kind === 'never' && newer.season.kind === 'never')
    return `${room} the lid binds at every humidity: ${each}. Give it more clearance, or woods and moistures that are nearer alike.`;
  return `${room} the lid runs, whatever its turn, at a humidity of: ${each}. A forecast for the seasons is a range, not a point.`;
}

function yearLine(asked: SeasonAsked, answer: SeasonAnswer): string {
  const { least, needed } = graver(answer);
  const [from, to] = [percent(asked.range.from), percent(asked.range.to)];
  const year = `From ${from} to ${to} %${asked.rangeGiven ? '' : " (a house's ordinary year, from memory)"}`;
  const enough = needed > 0 ? `${shownUp(needed, asked.unit)} of clearance as made` : 'any clearance';
  if (!asked.clearanceGiven)
    return `${year} the pair needs ${enough} to run all through; the worst is at ${percent(least.at)} %.`;
  if (least.gap >= 0)
    return `${year} it runs all through, the least gap being ${shown(least.gap, asked.unit)} at ${percent(least.at)} %.`;
  return `${year} it binds, by ${shown(mm(-least.gap), asked.unit)} at ${percent(least.at)} %; with ${enough} it would just run.`;
}

function todayLine({ unit }: SeasonAsked, { handbook, newer }: SeasonAnswer): readonly string[] {
  if (!handbook.now || !newer.now) return [];
  const gap = mm(Math.min(handbook.now.gap, newer.now.gap));
  return [`In the room's air of now the least gap is ${shown(gap, unit)}${gap < 0 ? ': it binds.' : '.'}`];
}

function closedLine(asked: SeasonAsked): readonly string[] {
  if (!alike(asked)) return [];
  return [
    'Closed with the grain in line the gap stays as made; the tight place is a quarter turn from closed, so it binds while being unscrewed.',
  ];
}

const figureWords = ({ radial, tangential, source, status, note }: Figures): string =>
  `radial ${radial.shrinkage.toFixed(1)} %, tangential ${tangential.shrinkage.toFixed(1)} % (${source}${STATUS_WORDS[status]}${note === null ? '' : `; ${note}`})`;

const woodLines = ({ name, figures, others }: NamedWood): readonly string[] => [
  `Shrinkage of ${name}: ${figureWords(figures)}.`,
  ...others.map((other) => `  another source: ${figureWords(other)}.`),
];

function figuresLines({ body, lid }: SeasonAsked): readonly string[] {
  return body.wood.figures === lid.wood.figures
    ? woodLines(body.wood)
    : [...woodLines(body.wood), ...woodLines(lid.wood)];
}

function lawLine(answer: SeasonAnswer): string {
  return coefficientsSuffice(answer)
    ? 'All of it lies inside 6 to 14 % moisture, where the coefficients hold.'
    : 'Some of it lies outside 6 to 14 % moisture, where the coefficients do not hold: that part is reckoned from 30 % as the start of shrinkage, and is less sure.';
}

const markOf = (word: string, made: Made): readonly Mark[] =>
  made.kind === 'air' ? [{ word, at: made.humidity }] : [];

function marksOf(asked: SeasonAsked): readonly Mark[] {
  const { body, lid, room } = asked;
  const now = room.humidity === undefined ? [] : [{ word: 'room', at: room.humidity }];
  if (body.made === lid.made) return [...markOf('made', body.made), ...now];
  return [...markOf('body made', body.made), ...markOf('lid made', lid.made), ...now];
}

/** Every line of the answer; the band is drawn when `columns` says how wide a terminal is. */
export function seasonLines(
  asked: SeasonAsked,
  answer: SeasonAnswer,
  columns: number | undefined,
): readonly string[] {
  const seasons = [answer.handbook, answer.newer].map((by: ByEquation) => by.season);
  const drawn = asked.clearanceGiven && columns !== undefined;
  return [
    partsLine(asked),
    madeLine(asked, answer),
    ...(asked.clearanceGiven ? [runsLine(asked, answer)] : []),
    ...(drawn ? bandLines(seasons, marksOf(asked), columns) : []),
    yearLine(asked, answer),
    ...(asked.clearanceGiven ? todayLine(asked, answer) : []),
    ...(asked.clearanceGiven ? closedLine(asked) : []),
    lawLine(answer),
    ...figuresLines(asked),
    'Both parts are taken to have come to rest in the air named, which takes wood weeks, not hours (common practice, no source).',
  ];
}
