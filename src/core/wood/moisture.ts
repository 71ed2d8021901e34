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
export type MoistureEquation = 'handbook' | 'newer';
export const MOISTURE_EQUATIONS: readonly MoistureEquation[] = ['handbook', 'newer'];

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

const within = (value: number, least: number, most: number): boolean => value >= least && value <= most;

function refuse(what: OutOfDomain['what'], found: number, least: number, most: number): InDomain<never> {
  return { ok: false, why: { kind: 'out-of-domain', what, found, least, most } };
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
  const { temperature: t, humidity: h } = air;
  if (!within(t, COLDEST, HOTTEST)) return refuse('temperature', t, COLDEST, HOTTEST);
  if (!within(h, 0, MOST_HUMID[by])) return refuse('humidity', h, 0, MOST_HUMID[by]);
  return { ok: true, value: moisture(BY[by](t, h)) };
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
  return root.ok ? { ok: true, value: humidityShare(root.at) } : refuse('moisture', content, 0, most.value);
}

const NAMES = {
  temperature: (found: number) => `a temperature of ${found.toFixed(0)} C`,
  humidity: (found: number) => `a humidity of ${(found * 100).toFixed(0)} %`,
  moisture: (found: number) => `a moisture content of ${found.toFixed(1)} %`,
  diameter: (found: number) => `a diameter of ${found} mm`,
  clearance: (found: number) => `a clearance of ${found} mm`,
} as const;

/** The sentence for a person: what is outside, and what is accepted. */
export function outOfDomainText(why: OutOfDomain): string {
  const named = NAMES[why.what](why.found);
  switch (why.what) {
    case 'temperature':
      return `${named} is outside the range of the moisture equations. Give ${Math.ceil(why.least)} to ${Math.floor(why.most)} C`;
    case 'humidity':
      return `${named} is outside the range of the moisture equations. Give ${why.most < 1 ? '0 to under 100 %' : '0 to 100 %'}`;
    case 'moisture':
      return `${named} is outside the range of the shrinkage formulas. Give 0 to ${Math.floor(why.most)} %`;
    case 'diameter':
    case 'clearance':
      return `${named} isn't possible. Give one ${why.least > 0 ? 'above 0' : `from ${why.least}`} and at most ${why.most} mm`;
    default:
      return why.what satisfies never;
  }
}
