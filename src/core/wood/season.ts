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
  accepted,
  both,
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
interface Wet {
  readonly bore: Moisture;
  readonly spigot: Moisture;
}

/** Moisture of a part as made, by one equation; above 30 % it has not begun to shrink, and is refused. */
function madeMoisture(made: Made, by: MoistureEquation): InDomain<Moisture> {
  const found =
    made.kind === 'air' ? equilibriumMoisture(by, made) : { ok: true as const, value: made.moisture };
  return found.ok ? accepted('moisture', found.value, 0, FIBRE_SATURATION) : found;
}

/** Far above any lathe: ten metres. */
const LARGEST = 10_000;

/** Both parts' moistures as made, by one equation; refused where a size is out of range. */
export function wetOf(
  { diameter, clearance, bore, spigot }: SeasonPair,
  by: MoistureEquation,
): InDomain<Wet> {
  const sizes = both(
    accepted('diameter', diameter, Number.MIN_VALUE, LARGEST),
    accepted('clearance', clearance, -LARGEST, LARGEST),
  );
  if (!sizes.ok) return sizes;
  const made = both(madeMoisture(bore.made, by), madeMoisture(spigot.made, by));
  return made.ok ? { ok: true, value: { bore: made.value[0], spigot: made.value[1] } } : made;
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

/**
 * The range of room humidity in which the least gap over all turns stays at `remains` or above: at 0 the lid still turns,
 * at the clearance from which a lid runs it still runs. Solved by the bracketing root finder: first the moistures at which
 * the gap is that, then the humidities that give them. Both parts have settled in the room.
 */
export function seasonOf(pair: SeasonPair, room: SeasonAir, remains: Length = mm(0)): Season {
  const known = both(wetOf(pair, room.by), mostMoisture(room));
  if (!known.ok) return known.why;
  const [made, most] = known.value;
  const gap = (at: number): number => gapAtMoisture(pair, made, moisture(at)) - remains;
  const corners = cornersOf(made, moisture(0), most);
  const gaps = corners.map(gap);
  const roomiest = gaps.indexOf(Math.max(...gaps));
  const best = corners[roomiest] ?? moisture(0);
  if (gap(best) < 0) {
    const at = humidityAt(room, best, most);
    return at.ok
      ? { kind: 'never', bestGap: mm(gap(best) + remains), short: mm(-gap(best)), bestAt: at.value }
      : at.why;
  }
  const from = limitAlong(gap, corners.slice(0, roomiest + 1).reverse());
  const to = limitAlong(gap, corners.slice(roomiest));
  const ends = both(humidityAt(room, from.moisture, most), humidityAt(room, to.moisture, most));
  if (!ends.ok) return ends.why;
  const [driest, dampest] = ends.value;
  return { kind: 'runs', from: { ...from, humidity: driest }, to: { ...to, humidity: dampest } };
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
  const known = both(wetOf(pair, room.by), mostMoisture(room));
  if (!known.ok) return known.why;
  const [made, most] = known.value;
  const [dry, damp] = range.from <= range.to ? [range.from, range.to] : [range.to, range.from];
  const ends = both(swollenMoisture(room, dry, most), swollenMoisture(room, damp, most));
  if (!ends.ok) return ends.why;
  const [driest, dampest] = ends.value;
  const corners = cornersOf(made, driest, dampest);
  const gaps = corners.map((at) => gapAtMoisture(pair, made, at));
  const gap = mm(Math.min(...gaps));
  const worst = corners[gaps.indexOf(gap)] ?? driest;
  if (worst === driest) return { kind: 'least', gap, at: dry, moisture: worst };
  if (worst === dampest) return { kind: 'least', gap, at: damp, moisture: worst };
  const at = humidityAt(room, worst, most);
  return at.ok ? { kind: 'least', gap, at: at.value, moisture: worst } : at.why;
}

/** The clearance at making of which `remains` is left in the worst air of the range; by default nothing over, nothing wanting. */
export const clearanceNeeded = (pair: SeasonPair, least: Least, remains: Length = mm(0)): Length =>
  mm(pair.clearance - least.gap + remains);
