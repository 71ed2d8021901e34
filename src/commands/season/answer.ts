// The figures of `lidwright season` by both moisture equations, the clearance that every source of figures asks for, and all of it as JSON.
import { inPercent, type Length, mm } from '../../core/units.ts';
import { MOISTURE_EQUATIONS, type MoistureEquation, type OutOfDomain } from '../../core/wood/moisture.ts';
import { coefficientsHold } from '../../core/wood/movement.ts';
import { clearanceNeeded, leastGapOver, type SeasonEnd, seasonOf, wetOf } from '../../core/wood/season.ts';
import { byOtherSources, type NamedWood, type SeasonQuestion } from './options.ts';

function answerBy(question: SeasonQuestion, by: MoistureEquation) {
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
  const needed = clearanceNeeded(pair, least, question.wanted);
  /** `now` is the gap in the room's present air, where its humidity was given. */
  return { made: made.value, season, least, needed, now };
}

/** What one equation says. */
type ByEquation = Exclude<ReturnType<typeof answerBy>, OutOfDomain>;

/** Both equations' answers, or the first figure that is outside what they hold for. */
export function answerSeason(question: SeasonQuestion) {
  const handbook = answerBy(question, 'handbook');
  if ('kind' in handbook) return handbook;
  const newer = answerBy(question, 'newer');
  return 'kind' in newer ? newer : ({ kind: 'answer', handbook, newer } as const);
}

export type SeasonAnswer = Exclude<ReturnType<typeof answerSeason>, OutOfDomain>;

/** The equation whose least gap is the smaller: the one to plan by. */
export const worse = (answer: SeasonAnswer): ByEquation =>
  answer.handbook.least.gap <= answer.newer.least.gap ? answer.handbook : answer.newer;

/** The least and the most clearance that the range needs, over the figures of every source. */
export function neededBySources(question: SeasonQuestion, answer: SeasonAnswer): readonly [Length, Length] {
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
export const coefficientsSuffice = (answer: SeasonAnswer): boolean =>
  MOISTURE_EQUATIONS.every((by) => holds(answer[by]));

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
