// How much water wood holds in air of a given temperature and humidity, by two published equations, and back.

import { rootBetween } from '../root.ts';
import {
  fahrenheit,
  type Humidity,
  humidityShare,
  type Moisture,
  moisture,
  type Temperature,
} from '../units.ts';

/** `handbook`: Eq. 4-5, the one behind the printed table; `newer`: Eq. 4-6 of the 2021 edition. */
export const MOISTURE_EQUATIONS = ['handbook', 'newer'] as const;
export type MoistureEquation = (typeof MOISTURE_EQUATIONS)[number];

/** A figure outside what the equations hold for: which, what was found, and the least and most that are accepted. */
export interface OutOfDomain {
  readonly kind: 'out-of-domain';
  readonly what: 'temperature' | 'humidity' | 'moisture' | 'diameter' | 'clearance';
  readonly found: number;
  readonly least: number;
  readonly most: number;
}

export type InDomain<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly why: OutOfDomain };

/** The printed table's own span, 30 to 210 degrees Fahrenheit (Wood Handbook, Table 4-2). */
const COLDEST = fahrenheit(30);
const HOTTEST = fahrenheit(210);
/** The newer equation grows without bound as the air nears saturation. */
export const MOST_HUMID = { handbook: 1, newer: 1 - 1e-9 } as const;

/** The figure where it lies within what is accepted, which NaN never does. */
export const accepted = <T extends number>(
  what: OutOfDomain['what'],
  found: T,
  least: number,
  most: number,
): InDomain<T> =>
  found >= least && found <= most
    ? { ok: true, value: found }
    : { ok: false, why: { kind: 'out-of-domain', what, found, least, most } };

/** Both figures, or the first that was refused. */
export function both<A, B>(one: InDomain<A>, other: InDomain<B>): InDomain<readonly [A, B]> {
  if (!one.ok) return one;
  return other.ok ? { ok: true, value: [one.value, other.value] } : other;
}

/** Wood Handbook FPL-GTR-282 (2021), Eq. 4-5 with the metric coefficients, p. 4-3; t in Celsius, h a share. */
function byHandbook(t: number, h: number): number {
  const W = 349 + 1.29 * t + 0.0135 * t ** 2;
  const K = 0.805 + 0.000736 * t - 0.00000273 * t ** 2;
  const K1 = 6.27 - 0.00938 * t - 0.000303 * t ** 2;
  const K2 = 1.91 + 0.0407 * t - 0.000293 * t ** 2;
  const first = (K * h) / (1 - K * h);
  const rest = (K1 * K * h + 2 * K1 * K2 * K ** 2 * h ** 2) / (1 + K1 * K * h + K1 * K2 * K ** 2 * h ** 2);
  return (1800 / W) * (first + rest); // Eq. 4-5
}

/** Wood Handbook FPL-GTR-282 (2021), Eq. 4-6 (Glass and others 2014), p. 4-4; t in Celsius, h a share. */
function byNewer(t: number, h: number): number {
  const kelvin = t + 273.15;
  const water = -0.000612 * kelvin * (1 - kelvin / 647.1) ** 2.43;
  return 100 * (water * Math.log1p(-h)) ** (0.0577 * kelvin ** 0.43); // Eq. 4-6
}

const BY: { readonly [equation in MoistureEquation]: (t: number, h: number) => number } = {
  handbook: byHandbook,
  newer: byNewer,
};

/**
 * Moisture content of wood at rest in this air.
 * Temperature from 30 to 210 F; humidity from 0 to 1 (the newer equation stops short of 1, where it has no end).
 */
export function equilibriumMoisture(
  by: MoistureEquation,
  air: { readonly temperature: Temperature; readonly humidity: Humidity },
): InDomain<Moisture> {
  const found = both(
    accepted('temperature', air.temperature, COLDEST, HOTTEST),
    accepted('humidity', air.humidity, 0, MOST_HUMID[by]),
  );
  return found.ok ? { ok: true, value: moisture(BY[by](...found.value)) } : found;
}

/** What saturated air gives: the end of the Handbook's equation, and past all swelling for the newer one. */
export function wettest(by: MoistureEquation, temperature: Temperature): InDomain<Moisture> {
  return equilibriumMoisture(by, { temperature, humidity: humidityShare(MOST_HUMID[by]) });
}

/**
 * Humidity at which wood rests at this moisture content: the equation turned round by the bracketing root finder.
 * Refused above what saturated air of this temperature gives by the same equation.
 */
export function equilibriumHumidity(
  by: MoistureEquation,
  temperature: Temperature,
  content: Moisture,
): InDomain<Humidity> {
  const most = wettest(by, temperature);
  if (!most.ok) return most;
  const root = rootBetween((h) => BY[by](temperature, h) - content, 0, MOST_HUMID[by]);
  if (root.ok) return { ok: true, value: humidityShare(root.at) };
  return {
    ok: false,
    why: { kind: 'out-of-domain', what: 'moisture', found: content, least: 0, most: most.value },
  };
}

/** The sentence for a person: what is outside, and what is accepted. */
export function outOfDomainText({ what, found, least, most }: OutOfDomain): string {
  const outside = 'is outside the range of the';
  switch (what) {
    case 'temperature':
      return `a temperature of ${found.toFixed(0)} C ${outside} moisture equations. Give ${Math.ceil(least)} to ${Math.floor(most)} C`;
    case 'humidity':
      return `a humidity of ${(found * 100).toFixed(0)} % ${outside} moisture equations. Give ${most < 1 ? '0 to under 100 %' : '0 to 100 %'}`;
    case 'moisture':
      return `a moisture content of ${found.toFixed(1)} % ${outside} shrinkage formulas. Give 0 to ${Math.floor(most)} %`;
    case 'diameter':
    case 'clearance':
      return `a ${what} of ${found} mm isn't possible. Give one ${least > 0 ? 'above 0' : `from ${least}`} and at most ${most} mm`;
    default:
      return what satisfies never;
  }
}
