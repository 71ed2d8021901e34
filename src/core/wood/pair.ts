// A pair as the seasons see it: what each part is made of, how wet it was when it was measured, and its gap when wetter or drier.
import { type Humidity, type Length, type Moisture, moisture, type Temperature } from '../units.ts';
import { equilibriumMoisture, type Found, type MoistureEquation, type OutOfDomain } from './moisture.ts';
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
export function madeMoisture(made: Made, by: MoistureEquation): Found<Moisture> {
  const found: Found<Moisture> =
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

/** Both parts' moistures as made, by one equation; refused with a size that is none. */
export function wetOf(pair: SeasonPair, by: MoistureEquation): Found<Wet> {
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
