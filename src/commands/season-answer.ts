// The seasons' answer by both moisture equations, and the same as JSON.
import { type Humidity, inPercent, type Length } from '../core/units.ts';
import { MOISTURE_EQUATIONS, type MoistureEquation, type OutOfDomain } from '../core/wood/moisture.ts';
import { coefficientsHold } from '../core/wood/movement.ts';
import {
  clearanceNeeded,
  type Least,
  leastGapOver,
  type Season,
  seasonOf,
  type Wet,
  wetOf,
} from '../core/wood/season.ts';
import type { NamedWood, SeasonAsked } from './season-asked.ts';

type Answered = Exclude<Season, OutOfDomain>;

/** What one equation says. */
export interface ByEquation {
  readonly by: MoistureEquation;
  readonly made: Wet;
  readonly season: Answered;
  readonly least: Least;
  readonly needed: Length;
  /** The gap in the room's air of today, where its humidity was given. */
  readonly now: Least | undefined;
}

export interface SeasonAnswer {
  readonly kind: 'answer';
  readonly handbook: ByEquation;
  readonly newer: ByEquation;
}

function answerBy(asked: SeasonAsked, by: MoistureEquation): ByEquation | OutOfDomain {
  const { pair, range } = asked;
  const room = { by, temperature: asked.room.temperature };
  const made = wetOf(pair, by);
  if (!made.ok) return made.why;
  const season = seasonOf(pair, room);
  if (season.kind === 'out-of-domain') return season;
  const least = leastGapOver(pair, room, range);
  if (least.kind === 'out-of-domain') return least;
  const today = asked.room.humidity;
  const now = today === undefined ? undefined : leastGapOver(pair, room, { from: today, to: today });
  if (now?.kind === 'out-of-domain') return now;
  return { by, made: made.value, season, least, needed: clearanceNeeded(pair, least), now };
}

/** Both equations' answers, or the first figure that is outside what they hold for. */
export function answerSeason(asked: SeasonAsked): SeasonAnswer | OutOfDomain {
  const handbook = answerBy(asked, 'handbook');
  if ('kind' in handbook) return handbook;
  const newer = answerBy(asked, 'newer');
  return 'kind' in newer ? newer : { kind: 'answer', handbook, newer };
}

/** The equation whose least gap is the smaller: the one to plan by. */
export const graver = (answer: SeasonAnswer): ByEquation =>
  answer.handbook.least.gap <= answer.newer.least.gap ? answer.handbook : answer.newer;

/** Whether the pair runs at all, and through the whole range where one was asked about. */
export function isYes(asked: SeasonAsked, answer: SeasonAnswer): boolean {
  if (!asked.clearanceGiven) return true;
  const runs = MOISTURE_EQUATIONS.some((by) => answer[by].season.kind === 'runs');
  return runs && (!asked.rangeGiven || graver(answer).least.gap >= 0);
}

const holds = ({ made, season, least }: ByEquation): boolean => {
  const limits = season.kind === 'runs' ? [season.from.moisture, season.to.moisture] : [];
  return [made.bore, made.spigot, least.moisture, ...limits].every(coefficientsHold);
};

/** Whether every moisture the answer rests on lies where the coefficients hold. */
export const coefficientsSuffice = (answer: SeasonAnswer): boolean =>
  MOISTURE_EQUATIONS.every((by) => holds(answer[by]));

const both = <T>(answer: SeasonAnswer, of: (by: ByEquation) => T) => ({
  handbook: of(answer.handbook),
  newer: of(answer.newer),
});

const limitRh = (season: Answered, end: 'from' | 'to'): number | null =>
  season.kind === 'runs' ? inPercent(season[end].humidity) : null;
const limitMc = (season: Answered, end: 'from' | 'to'): number | null =>
  season.kind === 'runs' ? season[end].moisture : null;
const percentOr = (humidity: Humidity | undefined): number | null =>
  humidity === undefined ? null : inPercent(humidity);

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
export function seasonJson(asked: SeasonAsked, answer: SeasonAnswer) {
  const { body, lid, pair, room, range, clearanceGiven } = asked;
  const worst = graver(answer);
  const given = <T>(value: T): T | null => (clearanceGiven ? value : null);
  return {
    runsFromRh: given(both(answer, ({ season }) => limitRh(season, 'from'))),
    runsToRh: given(both(answer, ({ season }) => limitRh(season, 'to'))),
    runsFromMc: given(both(answer, ({ season }) => limitMc(season, 'from'))),
    runsToMc: given(both(answer, ({ season }) => limitMc(season, 'to'))),
    leastGapMm: given(worst.least.gap),
    leastGapAtRh: inPercent(worst.least.at),
    leastGapByEquationMm: given(both(answer, ({ least }) => least.gap)),
    clearanceNeededMm: worst.needed,
    clearanceNeededByEquationMm: both(answer, ({ needed }) => needed),
    gapInRoomMm: given(room.humidity === undefined ? null : both(answer, ({ now }) => now?.gap ?? null)),
    rangeFromRh: inPercent(range.from),
    rangeToRh: inPercent(range.to),
    roomC: room.temperature,
    roomRh: percentOr(room.humidity),
    diameterMm: pair.diameter,
    clearanceMm: given(pair.clearance),
    boreMadeMc: both(answer, ({ made }) => made.bore),
    spigotMadeMc: both(answer, ({ made }) => made.spigot),
    coefficientsHold: coefficientsSuffice(answer),
    bored: asked.bored,
    body: { ...woodJson(body.wood), grain: body.grain },
    lid: { ...woodJson(lid.wood), grain: lid.grain },
  };
}
