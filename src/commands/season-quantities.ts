// Quantities that only the seasons are asked with: the air of a room, a range of humidity, shrinkage, clearance.
import {
  type Parsed,
  parseHumidity,
  parseLength,
  parseMoisture,
  parseTemperature,
} from '../core/quantity.ts';
import type { Humidity, Length, Temperature } from '../core/units.ts';
import { swellOf } from '../core/wood/movement.ts';
import type { HumidityRange } from '../core/wood/season.ts';
import type { Figures } from '../core/wood/woods.ts';

export interface Air {
  readonly temperature: Temperature;
  readonly humidity: Humidity;
}

/** A room's temperature, and its humidity of today where it was given. */
export interface RoomAir {
  readonly temperature: Temperature;
  readonly humidity: Humidity | undefined;
}

const refuse = (found: string, accepted: string): Parsed<never> => ({
  ok: false,
  kind: 'bad-quantity',
  found,
  accepted,
});

/** `20C` or `20C,45%`. */
export function parseRoom(text: string): Parsed<RoomAir> {
  const [warmth = '', damp, ...rest] = text.split(',');
  const temperature = parseTemperature(warmth);
  const humidity = damp === undefined ? undefined : parseHumidity(damp);
  if (!temperature.ok || humidity?.ok === false || rest.length > 0)
    return refuse(text, 'a temperature, and a humidity where it is known, such as 20C or 68F,45%');
  return { ok: true, value: { temperature: temperature.value, humidity: humidity?.value } };
}

/** `20C,45%`: both are needed. */
export function parseAir(text: string): Parsed<Air> {
  const room = parseRoom(text);
  if (!room.ok || room.value.humidity === undefined)
    return refuse(text, 'a temperature and a relative humidity from 0% to 100%, such as 20C,45% or 70F,50%');
  return { ok: true, value: { temperature: room.value.temperature, humidity: room.value.humidity } };
}

/** `30%,65%`, in either order. */
export function parseRange(text: string): Parsed<HumidityRange> {
  const ends = text.split(',').map(parseHumidity);
  const [one, two] = ends;
  if (ends.length !== 2 || !one?.ok || !two?.ok)
    return refuse(text, 'two relative humidities from 0% to 100%, such as 30%,65%');
  const [from, to] = one.value <= two.value ? [one.value, two.value] : [two.value, one.value];
  return { ok: true, value: { from, to } };
}

/** `4.8%,9.9%`: radial and tangential, from green to oven-dry. */
export function parseShrinkage(text: string): Parsed<Figures> {
  const [radial, tangential, ...rest] = text.split(',').map((part) => {
    const percent = parseMoisture(part);
    return percent.ok && percent.value > 0 ? swellOf({ shrinkage: percent.value }) : undefined;
  });
  if (!radial || !tangential || rest.length > 0)
    return refuse(text, 'radial and tangential shrinkage, each above 0% and to 30%, such as 4.8%,9.9%');
  return { ok: true, value: { radial, tangential, source: 'typed by hand', status: 'none', note: null } };
}

/** A clearance of nothing or more. */
export function parseClearance(text: string): Parsed<Length> {
  const parsed = parseLength(text);
  return parsed.ok && parsed.value < 0 ? refuse(text, 'a clearance of 0mm or more, such as 0.2mm') : parsed;
}
