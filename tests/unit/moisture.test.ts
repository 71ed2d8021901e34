// Moisture from air and back: the ends of what the equations hold for, and what is said past them.
import { expect, test } from 'vitest';
import { celsius, fahrenheit, humidityPercent, humidityShare, moisture } from '../../src/core/units.ts';
import {
  equilibriumHumidity,
  equilibriumMoisture,
  MOISTURE_EQUATIONS,
  type OutOfDomain,
  outOfDomainText,
  wettest,
} from '../../src/core/wood/moisture.ts';

const room = celsius(20);

test('perfectly dry air leaves perfectly dry wood', () => {
  for (const by of MOISTURE_EQUATIONS) {
    const dry = equilibriumMoisture(by, { temperature: room, humidity: humidityPercent(0) });
    expect(dry.ok && Math.abs(dry.value)).toBe(0);
    const back = equilibriumHumidity(by, room, moisture(0));
    expect(back.ok && Math.abs(back.value)).toBe(0);
  }
});

test('saturated air gives the Handbook equation its end, and the newer one more than 30 %', () => {
  const [handbook, newer] = MOISTURE_EQUATIONS.map((by) => wettest(by, room));
  expect(handbook?.ok && handbook.value).toBeCloseTo(28.84, 2);
  expect(newer?.ok && newer.value).toBeGreaterThan(30);
});

const refusals: readonly [string, () => { ok: boolean; why?: OutOfDomain }, RegExp][] = [
  [
    'a room of 120 C',
    () => equilibriumMoisture('handbook', { temperature: celsius(120), humidity: humidityPercent(40) }),
    /temperature of 120 C is outside .* Give -1 to 98 C/,
  ],
  [
    'a room just under freezing by the table',
    () => equilibriumMoisture('newer', { temperature: fahrenheit(29), humidity: humidityPercent(40) }),
    /temperature of -2 C is outside/,
  ],
  [
    '400 % humidity',
    () => equilibriumMoisture('handbook', { temperature: room, humidity: humidityPercent(400) }),
    /humidity of 400 % is outside .* Give 0 to 100 %/,
  ],
  [
    'saturated air by the newer equation',
    () => equilibriumMoisture('newer', { temperature: room, humidity: humidityShare(1) }),
    /humidity of 100 % is outside .* Give 0 to under 100 %/,
  ],
  [
    'more moisture than saturated air gives',
    () => equilibriumHumidity('handbook', room, moisture(29)),
    /moisture content of 29.0 % is outside .* Give 0 to 28 %/,
  ],
  ['less than none', () => equilibriumHumidity('newer', room, moisture(-1)), /moisture content of -1.0 %/],
];

test.each(refusals)('%s is refused, with what is accepted', (_, ask, said) => {
  const found = ask();
  expect(found.ok).toBe(false);
  expect(found.why && outOfDomainText(found.why)).toMatch(said);
});

test('NaN is refused as temperature, humidity and moisture', () => {
  const nothing = Number.NaN;
  const air = { temperature: celsius(nothing), humidity: humidityPercent(40) };
  expect(equilibriumMoisture('handbook', air).ok).toBe(false);
  expect(equilibriumMoisture('newer', { temperature: room, humidity: humidityShare(nothing) }).ok).toBe(
    false,
  );
  expect(equilibriumHumidity('handbook', room, moisture(nothing)).ok).toBe(false);
});
