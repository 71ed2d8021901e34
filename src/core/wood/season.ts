// The seasons of a pair: in what room humidity a lid still runs, and what clearance a stated range of humidity asks for.

import { rootBetween } from '../root.ts';
import {
  type Humidity,
  humidityShare,
  type Length,
  type Moisture,
  mm,
  moisture,
  type Temperature,
} from '../units.ts';
import {
  equilibriumHumidity,
  equilibriumMoisture,
  type InDomain,
  MOST_HUMID,
  type MoistureEquation,
  type OutOfDomain,
  wettest,
} from './moisture.ts';
import { COEFFICIENTS_HOLD, FIBRE_SATURATION, leastGap, ovalOf, type Ring } from './movement.ts';

/** How wet a part was when the clearance was measured: by the air it rested in, or by a moisture meter. */
export type Made =
  | { readonly kind: 'air'; readonly temperature: Temperature; readonly humidity: Humidity }
  | { readonly kind: 'meter'; readonly moisture: Moisture };

export interface SeasonPart {
  readonly ring: Ring;
  readonly made: Made;
}

/**
 * A pair whose clearance is known at the moistures it was made at, negative where it is seized; one diameter stands for
 * bore and spigot alike.
 */
export interface SeasonPair {
  readonly diameter: Length;
  readonly clearance: Length;
  readonly bore: SeasonPart;
  readonly spigot: SeasonPart;
}

/** Moistures of the two parts as made. */
export interface Wet {
  readonly bore: Moisture;
  readonly spigot: Moisture;
}

/** Moisture of a part as made, by one equation; above 30 % it has not begun to shrink, and is refused. */
export function madeMoisture(made: Made, by: MoistureEquation): InDomain<Moisture> {
  const found: InDomain<Moisture> =
    made.kind === 'meter' ? { ok: true, value: made.moisture } : equilibriumMoisture(by, made);
  if (!found.ok || (found.value >= 0 && found.value <= FIBRE_SATURATION)) return found;
  const why = { kind: 'out-of-domain', what: 'moisture', least: 0, most: FIBRE_SATURATION } as const;
  return { ok: false, why: { ...why, found: found.value } };
}

/** Far above any lathe: ten metres. */
const LARGEST = 10_000;

function wrongSize(pair: SeasonPair): OutOfDomain | undefined {
  const { diameter, clearance } = pair;
  if (!(diameter > 0 && diameter <= LARGEST))
    return {
      kind: 'out-of-domain',
      what: 'diameter',
      found: diameter,
      least: Number.MIN_VALUE,
      most: LARGEST,
    };
  if (!(Math.abs(clearance) <= LARGEST))
    return { kind: 'out-of-domain', what: 'clearance', found: clearance, least: -LARGEST, most: LARGEST };
  return undefined;
}

/** Both parts' moistures as made, by one equation; refused where a size is out of range. */
export function wetOf(pair: SeasonPair, by: MoistureEquation): InDomain<Wet> {
  const wrong = wrongSize(pair);
  if (wrong) return { ok: false, why: wrong };
  const bore = madeMoisture(pair.bore.made, by);
  if (!bore.ok) return bore;
  const spigot = madeMoisture(pair.spigot.made, by);
  return spigot.ok ? { ok: true, value: { bore: bore.value, spigot: spigot.value } } : spigot;
}

/** Least gap over all turns once both parts have come to one moisture, from 0 to 30 %. */
export function gapAtMoisture(pair: SeasonPair, made: Wet, at: Moisture): Length {
  const { diameter, bore, spigot } = pair;
  return leastGap(
    pair.clearance,
    ovalOf(diameter, bore.ring, made.bore, at),
    ovalOf(diameter, spigot.ring, made.spigot, at),
  );
}

/**
 * Moistures between which the gap is a straight line: the two ends, where each part was round, and where the law changes.
 * Its greatest and its least value lie at these and nowhere else (derived).
 */
export function cornersOf(made: Wet, least: Moisture, most: Moisture): readonly Moisture[] {
  const turning = [made.bore, made.spigot, COEFFICIENTS_HOLD.least, COEFFICIENTS_HOLD.most];
  const inside = turning.filter((at) => at > least && at < most).sort((a, b) => a - b);
  return [least, ...inside.map(moisture), most];
}

/** The air the pair will live in, and the equation that says what wood makes of it. */
export interface SeasonAir {
  readonly by: MoistureEquation;
  readonly temperature: Temperature;
}

/** One end of the range: the humidity, and the moisture that wood settles at in it. */
export interface SeasonEnd {
  readonly humidity: Humidity;
  readonly moisture: Moisture;
  /** Whether the gap is narrower past it; false at 0 and 100 % humidity reached with room to spare. */
  readonly binds: boolean;
}

/** The range in which the gap stays as wide as asked in every turn; or that it never is, and how wide it gets in what air. */
export type Season =
  | { readonly kind: 'runs'; readonly from: SeasonEnd; readonly to: SeasonEnd }
  | {
      readonly kind: 'never';
      readonly bestGap: Length;
      /** How much the best gap is under what was to remain. */
      readonly short: Length;
      readonly bestAt: Humidity;
    }
  | OutOfDomain;

/** The least gap over a range of humidity and all turns, and where it is met. */
export interface Least {
  readonly kind: 'least';
  readonly gap: Length;
  readonly at: Humidity;
  readonly moisture: Moisture;
}

/** Moisture at which wood in this room moves no further: in saturated air, or at 30 % where the equation goes past it. */
function mostMoisture(room: SeasonAir): InDomain<Moisture> {
  const most = wettest(room.by, room.temperature);
  return most.ok ? { ok: true, value: moisture(Math.min(most.value, FIBRE_SATURATION)) } : most;
}

/** Humidity that gives a moisture; all the rest of the way to saturation once swelling has ended. */
function humidityAt(room: SeasonAir, at: Moisture, most: Moisture): InDomain<Humidity> {
  if (at >= most) return { ok: true, value: humidityShare(1) };
  return equilibriumHumidity(room.by, room.temperature, at);
}

/** From the roomiest corner outwards: where the gap first falls short, or the last corner when it never does. */
function limitAlong(gap: (at: number) => number, outwards: readonly Moisture[]) {
  const past = outwards.findIndex((at) => gap(at) < 0);
  const outer = outwards[past];
  if (outer === undefined) return { moisture: outwards.at(-1) ?? moisture(0), binds: false };
  const inner = outwards[past - 1] ?? outer;
  const root = rootBetween(gap, inner, outer);
  return { moisture: root.ok ? moisture(root.at) : inner, binds: true };
}

function roomiestOf(gap: (at: number) => number, corners: readonly Moisture[]): number {
  const gaps = corners.map(gap);
  return gaps.indexOf(Math.max(...gaps));
}

/**
 * The range of room humidity in which the least gap over all turns stays at `remains` or above: at 0 the lid still turns,
 * at the clearance from which a lid runs it still runs. Solved by the bracketing root finder: first the moistures at which
 * the gap is that, then the humidities that give them. Both parts have settled in the room.
 */
export function seasonOf(pair: SeasonPair, room: SeasonAir, remains: Length = mm(0)): Season {
  const made = wetOf(pair, room.by);
  if (!made.ok) return made.why;
  const most = mostMoisture(room);
  if (!most.ok) return most.why;
  const gap = (at: number): number => gapAtMoisture(pair, made.value, moisture(at)) - remains;
  const corners = cornersOf(made.value, moisture(0), most.value);
  const roomiest = roomiestOf(gap, corners);
  const best = corners[roomiest] ?? moisture(0);
  if (gap(best) < 0) {
    const at = humidityAt(room, best, most.value);
    return at.ok
      ? { kind: 'never', bestGap: mm(gap(best) + remains), short: mm(-gap(best)), bestAt: at.value }
      : at.why;
  }
  const from = limitAlong(gap, corners.slice(0, roomiest + 1).reverse());
  const to = limitAlong(gap, corners.slice(roomiest));
  const driest = humidityAt(room, from.moisture, most.value);
  if (!driest.ok) return driest.why;
  const dampest = humidityAt(room, to.moisture, most.value);
  if (!dampest.ok) return dampest.why;
  return {
    kind: 'runs',
    from: { ...from, humidity: driest.value },
    to: { ...to, humidity: dampest.value },
  };
}

/** A range of room humidity, in either order. */
export interface HumidityRange {
  readonly from: Humidity;
  readonly to: Humidity;
}

function swollenMoisture(room: SeasonAir, humidity: Humidity, most: Moisture): InDomain<Moisture> {
  if (humidity > MOST_HUMID[room.by] && humidity <= 1) return { ok: true, value: most };
  const found = equilibriumMoisture(room.by, { temperature: room.temperature, humidity });
  return found.ok ? { ok: true, value: moisture(Math.min(found.value, most)) } : found;
}

/** The least gap that a range of room humidity brings, over all turns; a range of no width asks about one humidity. */
export function leastGapOver(pair: SeasonPair, room: SeasonAir, range: HumidityRange): Least | OutOfDomain {
  const made = wetOf(pair, room.by);
  if (!made.ok) return made.why;
  const most = mostMoisture(room);
  if (!most.ok) return most.why;
  const [dry, damp] = range.from <= range.to ? [range.from, range.to] : [range.to, range.from];
  const driest = swollenMoisture(room, dry, most.value);
  if (!driest.ok) return driest.why;
  const dampest = swollenMoisture(room, damp, most.value);
  if (!dampest.ok) return dampest.why;
  const corners = cornersOf(made.value, driest.value, dampest.value);
  const gaps = corners.map((at) => gapAtMoisture(pair, made.value, at));
  const gap = mm(Math.min(...gaps));
  const worst = corners[gaps.indexOf(gap)] ?? driest.value;
  const at = worst === driest.value ? dry : worst === dampest.value ? damp : undefined;
  const solved = at === undefined ? humidityAt(room, worst, most.value) : ({ ok: true, value: at } as const);
  return solved.ok ? { kind: 'least', gap, at: solved.value, moisture: worst } : solved.why;
}

/** The clearance at making of which `remains` is left in the worst air of the range; by default nothing over, nothing wanting. */
export const clearanceNeeded = (pair: SeasonPair, least: Least, remains: Length = mm(0)): Length =>
  mm(pair.clearance - least.gap + remains);
