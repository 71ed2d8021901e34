// The answer of `lidwright season` by both moisture equations, in sentences no finer than they warrant, as a band and as JSON.
import { cutLength, cutLengthUp } from '../../core/figures.ts';
import { type Humidity, inPercent, type Length, type LengthUnit, mm } from '../../core/units.ts';
import { MOISTURE_EQUATIONS, type MoistureEquation, type OutOfDomain } from '../../core/wood/moisture.ts';
import { coefficientsHold } from '../../core/wood/movement.ts';
import {
  clearanceNeeded,
  type Least,
  leastGapOver,
  type Made,
  type Season,
  type SeasonEnd,
  seasonOf,
  type Wet,
  wetOf,
} from '../../core/wood/season.ts';
import type { Figures } from '../../core/wood/woods.ts';
import { byOtherSources, type NamedWood, type PartQuestion, type SeasonQuestion } from './options.ts';

type Answered = Exclude<Season, OutOfDomain>;

/** What one equation says. */
interface ByEquation {
  readonly by: MoistureEquation;
  readonly made: Wet;
  readonly season: Answered;
  readonly least: Least;
  readonly needed: Length;
  /** The gap in the room's present air, where its humidity was given. */
  readonly now: Least | undefined;
}

interface SeasonAnswer {
  readonly kind: 'answer';
  readonly handbook: ByEquation;
  readonly newer: ByEquation;
}

function answerBy(question: SeasonQuestion, by: MoistureEquation): ByEquation | OutOfDomain {
  const { pair, range } = question;
  const room = { by, temperature: question.room.temperature };
  const made = wetOf(pair, by);
  if (!made.ok) return made.why;
  const season = seasonOf(pair, room, question.running);
  if (season.kind === 'out-of-domain') return season;
  const least = leastGapOver(pair, room, range);
  if (least.kind === 'out-of-domain') return least;
  const today = question.room.humidity;
  const now = today === undefined ? undefined : leastGapOver(pair, room, { from: today, to: today });
  if (now?.kind === 'out-of-domain') return now;
  return { by, made: made.value, season, least, needed: clearanceNeeded(pair, least, question.wanted), now };
}

/** Both equations' answers, or the first figure that is outside what they hold for. */
export function answerSeason(question: SeasonQuestion): SeasonAnswer | OutOfDomain {
  const handbook = answerBy(question, 'handbook');
  if ('kind' in handbook) return handbook;
  const newer = answerBy(question, 'newer');
  return 'kind' in newer ? newer : { kind: 'answer', handbook, newer };
}

/** The equation whose least gap is the smaller: the one to plan by. */
const worse = (answer: SeasonAnswer): ByEquation =>
  answer.handbook.least.gap <= answer.newer.least.gap ? answer.handbook : answer.newer;

/** The least and the most clearance that the range needs, over the figures of every source. */
function neededBySources(question: SeasonQuestion, answer: SeasonAnswer): readonly [Length, Length] {
  const others = byOtherSources(question).flatMap((other) => {
    const by = answerSeason(other);
    return by.kind === 'answer' ? [worse(by).needed] : [];
  });
  const all = [worse(answer).needed, ...others];
  return [mm(Math.min(...all)), mm(Math.max(...all))];
}

/** Whether the pair runs at all, and through the whole range where one was asked about. */
export function isYes(question: SeasonQuestion, answer: SeasonAnswer): boolean {
  if (!question.clearanceGiven) return true;
  const runs = MOISTURE_EQUATIONS.some((by) => answer[by].season.kind === 'runs');
  return runs && (!question.rangeGiven || worse(answer).least.gap >= question.running);
}

const holds = ({ made, season, least }: ByEquation): boolean => {
  const limits = season.kind === 'runs' ? [season.from.moisture, season.to.moisture] : [];
  return [made.bore, made.spigot, least.moisture, ...limits].every(coefficientsHold);
};

/** Whether every moisture the answer rests on lies where the coefficients hold. */
const coefficientsSuffice = (answer: SeasonAnswer): boolean =>
  MOISTURE_EQUATIONS.every((by) => holds(answer[by]));

interface Mark {
  readonly word: string;
  readonly at: Humidity;
}

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

function rangeWords(season: Exclude<Season, { kind: 'out-of-domain' }>, unit: LengthUnit): string {
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
export function seasonLines(
  question: SeasonQuestion,
  answer: SeasonAnswer,
  columns: number | undefined,
): readonly string[] {
  const seasons = [answer.handbook, answer.newer].map((by: ByEquation) => by.season);
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

const both = <T>(answer: SeasonAnswer, of: (by: ByEquation) => T) => ({
  handbook: of(answer.handbook),
  newer: of(answer.newer),
});

/** One end of the range by each equation; null where nothing runs. */
const limits = (answer: SeasonAnswer, end: 'from' | 'to', of: (limit: SeasonEnd) => number) =>
  both(answer, ({ season }) => (season.kind === 'runs' ? of(season[end]) : null));
const rhOf = ({ humidity }: SeasonEnd): number => inPercent(humidity);
const mcOf = ({ moisture }: SeasonEnd): number => moisture;

const woodJson = ({ name, botanical, figures }: NamedWood) => ({
  trade: name,
  botanical,
  radialShrinkagePercent: figures.radial.shrinkage,
  tangentialShrinkagePercent: figures.tangential.shrinkage,
  source: figures.source,
  status: figures.status,
  note: figures.note,
});

/** Lengths in mm, humidity and moisture in percent; null where nothing was asked or nothing runs. */
export function seasonJson(question: SeasonQuestion, answer: SeasonAnswer) {
  const { body, lid, pair, room, range, clearanceGiven } = question;
  const worst = worse(answer);
  const given = <T>(value: T): T | null => (clearanceGiven ? value : null);
  return {
    runsFromRh: given(limits(answer, 'from', rhOf)),
    runsToRh: given(limits(answer, 'to', rhOf)),
    runsFromMc: given(limits(answer, 'from', mcOf)),
    runsToMc: given(limits(answer, 'to', mcOf)),
    leastGapMm: given(worst.least.gap),
    leastGapAtRh: inPercent(worst.least.at),
    leastGapByEquationMm: given(both(answer, ({ least }) => least.gap)),
    clearanceNeededMm: worst.needed,
    clearanceNeededBySourcesMm: neededBySources(question, answer),
    clearanceNeededByEquationMm: both(answer, ({ needed }) => needed),
    gapInRoomMm: given(room.humidity === undefined ? null : both(answer, ({ now }) => now?.gap ?? null)),
    rangeFromRh: inPercent(range.from),
    rangeToRh: inPercent(range.to),
    roomC: room.temperature,
    roomRh: room.humidity === undefined ? null : inPercent(room.humidity),
    diameterMm: pair.diameter,
    clearanceMm: given(pair.clearance),
    boreMadeMc: both(answer, ({ made }) => made.bore),
    spigotMadeMc: both(answer, ({ made }) => made.spigot),
    coefficientsHold: coefficientsSuffice(answer),
    bored: question.bored,
    body: { ...woodJson(body.wood), grain: body.grain },
    lid: { ...woodJson(lid.wood), grain: lid.grain },
  };
}
