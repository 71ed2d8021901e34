// Wood in air: the ends of what the equations hold for, how a part moves, and where the gap of a pair as made turns.
import { expect, test } from 'vitest';
import { celsius, fahrenheit, humidityPercent, humidityShare, mm, moisture } from '../../src/core/units.ts';
import {
  equilibriumHumidity,
  equilibriumMoisture,
  type InDomain,
  MOISTURE_EQUATIONS,
  outOfDomainText,
  wettest,
} from '../../src/core/wood/moisture.ts';
import {
  changeByCoefficient,
  changeByShrinkage,
  changeOf,
  coefficientOf,
  coefficientsHold,
  ovalOf,
  ringOf,
  type Swell,
  shrinkageOf,
  swellOf,
} from '../../src/core/wood/movement.ts';
import {
  cornersOf,
  leastGapOver,
  type Made,
  type SeasonAir,
  type SeasonPair,
  seasonOf,
  wetOf,
} from '../../src/core/wood/season.ts';
import { ofKind } from '../support/of-kind.ts';

const warm = celsius(20);
const outcome = <T>(found: InDomain<T>): T | string => (found.ok ? found.value : outOfDomainText(found.why));

test('perfectly dry air leaves perfectly dry wood', () => {
  for (const by of MOISTURE_EQUATIONS) {
    expect(outcome(equilibriumMoisture(by, { temperature: warm, humidity: humidityShare(0) }))).toBeCloseTo(
      0,
      12,
    );
    expect(outcome(equilibriumHumidity(by, warm, moisture(0)))).toBeCloseTo(0, 12);
  }
});

test('saturated air gives the Handbook equation its end, and the newer one more than 30 %', () => {
  expect(outcome(wettest('handbook', warm))).toBeCloseTo(28.84, 2);
  expect(outcome(wettest('newer', warm))).toBeGreaterThan(30);
});

test.each([
  [
    'handbook',
    celsius(120),
    0.4,
    'a temperature of 120 C is outside the range of the moisture equations. Give -1 to 98 C',
  ],
  ['newer', fahrenheit(29), 0.4, 'a temperature of -2 C is outside'],
  ['handbook', celsius(Number.NaN), 0.4, 'a temperature of NaN C is outside'],
  [
    'handbook',
    warm,
    4,
    'a humidity of 400 % is outside the range of the moisture equations. Give 0 to 100 %',
  ],
  [
    'newer',
    warm,
    1,
    'a humidity of 100 % is outside the range of the moisture equations. Give 0 to under 100 %',
  ],
  ['newer', warm, Number.NaN, 'a humidity of NaN % is outside'],
] as const)('the %s equation refuses air of %d C and humidity %d', (by, temperature, share, said) => {
  expect(outcome(equilibriumMoisture(by, { temperature, humidity: humidityShare(share) }))).toContain(said);
});

test.each([
  [
    'handbook',
    29,
    'a moisture content of 29.0 % is outside the range of the shrinkage formulas. Give 0 to 28 %',
  ],
  ['newer', -1, 'a moisture content of -1.0 % is outside'],
  ['handbook', Number.NaN, 'a moisture content of NaN % is outside'],
] as const)('no air gives wood %s %d %% moisture', (by, content, said) => {
  expect(outcome(equilibriumHumidity(by, warm, moisture(content)))).toContain(said);
});

const swell = (shrinkage: number): Swell => {
  const found = swellOf({ shrinkage });
  if (!found) throw new Error(`no wood shrinks ${shrinkage} %`);
  return found;
};
const maple = { radial: swell(4.8), tangential: swell(9.9) };

test('inside 6 to 14 % the coefficient alone speaks, outside the part of the way is worked out from 30 %', () => {
  const of = maple.tangential;
  const by = (how: typeof changeOf, size: number, from: number, to: number): number =>
    how(mm(size), of, moisture(from), moisture(to));
  const inside = by(changeByCoefficient, 52, 10, 14);
  const both = inside + by(changeByShrinkage, 52 + inside, 14, 20);
  expect(by(changeOf, 52, 7, 11)).toBeCloseTo(by(changeByCoefficient, 52, 7, 11), 12);
  expect(by(changeOf, 52, 10, 20)).toBeCloseTo(both, 12);
  expect(by(changeOf, 52, 16, 20)).toBeCloseTo(by(changeByShrinkage, 52, 16, 20), 12);
  expect(by(changeByShrinkage, 100, 30, 0)).toBeCloseTo(-9.9, 12);
  expect(by(changeOf, 100, 30, 0)).toBeCloseTo(-9.9, 1);
});

test('the coefficients hold from 6 to 14 %, both included', () => {
  const hold = [5.99, 6, 10, 14, 14.01].map((at) => coefficientsHold(moisture(at)));
  expect(hold).toEqual([false, true, true, true, false]);
});

test('either form alone gives both, and a coefficient that is known is kept', () => {
  for (const shrinkage of [0.1, 3, 4.8, 9.9, 12.7])
    expect(shrinkageOf(coefficientOf(shrinkage))).toBeCloseTo(shrinkage, 12);
  expect(swellOf({ coefficient: 0.002 })).toEqual({ coefficient: 0.002, shrinkage: shrinkageOf(0.002) });
  expect(swellOf({ shrinkage: 6, coefficient: 0.002 })).toEqual({ coefficient: 0.002, shrinkage: 6 });
  expect(swellOf({ shrinkage: 6 })).toEqual({ coefficient: coefficientOf(6), shrinkage: 6 });
  expect(swellOf({ shrinkage: 0 })).toEqual({ coefficient: 0, shrinkage: 0 });
  for (const shrinkage of [undefined, -1, 100, Number.NaN]) expect(swellOf({ shrinkage })).toBeUndefined();
});

test('a ring along the grain goes oval, and across the grain more so', () => {
  const oval = (grain: 'end' | 'flat' | 'quarter') =>
    ovalOf(mm(50), ringOf(maple, grain), moisture(8), moisture(12));
  const [ct, cr] = [maple.tangential.coefficient, maple.radial.coefficient];
  expect(oval('end').half).toBeCloseTo((50 * 4 * (ct - cr)) / 2, 12);
  expect(oval('end').mean).toBeCloseTo((50 * 4 * (ct + cr)) / 2, 12);
  expect(oval('flat').half).toBeCloseTo((50 * 4 * (ct - 0.01 * ct)) / 2, 12);
  expect(oval('quarter').half).toBeCloseTo((50 * 4 * (cr - 0.01 * ct)) / 2, 12);
});

const meter = (percent: number): Made => ({ kind: 'meter', moisture: moisture(percent) });
const part = { ring: ringOf(maple, 'end'), made: meter(8) };
const pair: SeasonPair = { diameter: mm(52), clearance: mm(0.2), bore: part, spigot: part };
const room: SeasonAir = { by: 'handbook', temperature: warm };
const wet = (change: Partial<SeasonPair>) => outcome(wetOf({ ...pair, ...change }, 'handbook'));

test('a meter says how wet a part is at once, from 0 to 30 %; more has not begun to shrink', () => {
  for (const percent of [0, 8.5, 30])
    expect(wet({ bore: { ...part, made: meter(percent) } })).toEqual({ bore: percent, spigot: 8 });
  for (const which of ['bore', 'spigot'])
    for (const percent of [-0.1, 30.1, Number.NaN])
      expect(wet({ [which]: { ...part, made: meter(percent) } })).toBe(
        `a moisture content of ${percent.toFixed(1)} % is outside the range of the shrinkage formulas. Give 0 to 30 %`,
      );
});

test('the air says it by the equation, and is refused as the equation refuses', () => {
  const made = (temperature: number): Made => ({
    ...{ kind: 'air', temperature: celsius(temperature), humidity: humidityPercent(45) },
  });
  // 8.5 % at 20 C and 45 %, between the Handbook's rows (Wood Handbook, Table 4-2, from memory)
  expect(wet({ bore: { ...part, made: made(20) } })).toEqual({ bore: expect.closeTo(8.5, 1), spigot: 8 });
  expect(wet({ bore: { ...part, made: made(120) } })).toContain('a temperature of 120 C');
});

test.each([
  [
    { diameter: mm(10_000), clearance: mm(-10_000) },
    { bore: 8, spigot: 8 },
  ],
  [{ diameter: mm(0) }, "a diameter of 0 mm isn't possible. Give one above 0 and at most 10000 mm"],
  [{ diameter: mm(10_001) }, "a diameter of 10001 mm isn't possible. Give one above 0 and at most 10000 mm"],
  [
    { clearance: mm(10_001) },
    "a clearance of 10001 mm isn't possible. Give one from -10000 and at most 10000 mm",
  ],
  [
    { clearance: mm(Number.NaN) },
    "a clearance of NaN mm isn't possible. Give one from -10000 and at most 10000 mm",
  ],
])('a size out of range is refused with the range: %j', (change, said) => {
  expect(wet(change)).toEqual(said);
});

test('the gap turns at the ends, where the parts were round and where the law changes, in order', () => {
  const made = { bore: moisture(9), spigot: moisture(7) };
  expect(cornersOf(made, moisture(0), moisture(28))).toEqual([0, 6, 7, 9, 14, 28]);
  expect(cornersOf(made, moisture(7), moisture(14))).toEqual([7, 9, 14]);
});

test('a pair with room to spare runs in any air, and says that it does not bind there', () => {
  expect(seasonOf({ ...pair, clearance: mm(5) }, room)).toMatchObject({
    kind: 'runs',
    from: { humidity: 0, moisture: 0, binds: false },
    to: { humidity: 1, binds: false },
  });
});

test('a pair that never runs says how near it comes, and in what air', () => {
  const never = ofKind('never', seasonOf({ ...pair, clearance: mm(-0.1) }, room));
  expect(never).toMatchObject({ bestGap: expect.closeTo(-0.1, 9), short: expect.closeTo(0.1, 9) });
  const there = equilibriumMoisture(room.by, { temperature: warm, humidity: never.bestAt });
  expect(outcome(there)).toBeCloseTo(8, 6);
});

test('wood that never moves keeps its gap: large enough in any air, or too small in all', () => {
  const still = { ring: ringOf({ radial: swell(0), tangential: swell(0) }, 'end'), made: meter(8) };
  const kept = { ...pair, clearance: mm(0.0625), bore: still, spigot: still };
  expect(seasonOf(kept, room, mm(0.0625))).toMatchObject({ kind: 'runs', from: { humidity: 0 } });
  expect(seasonOf(kept, room, mm(0.125))).toMatchObject({ kind: 'never', bestGap: 0.0625, short: 0.0625 });
});

const over = (from: number, to: number, by: SeasonAir['by'] = 'handbook') =>
  leastGapOver(pair, { ...room, by }, { from: humidityPercent(from), to: humidityPercent(to) });

test('the least gap is met at the end that is farther from the air it was made in, in either order', () => {
  expect(over(45, 80)).toMatchObject({ kind: 'least', at: 0.8 });
  expect(over(10, 45)).toMatchObject({ kind: 'least', at: 0.1 });
  expect([over(80, 45), over(80, 80), over(45, 10)]).toEqual([over(45, 80), over(45, 80), over(10, 45)]);
});

test("saturated air is where swelling ends, more isn't possible", () => {
  expect(over(45, 100, 'newer')).toMatchObject({ kind: 'least', at: 1, moisture: 30 });
  expect(over(45, 100)).toMatchObject({ kind: 'least', at: 1 });
  expect(over(45, 150)).toMatchObject({ kind: 'out-of-domain', what: 'humidity', found: 1.5 });
  expect(over(-1, 45)).toMatchObject({ kind: 'out-of-domain', what: 'humidity', found: -0.01 });
});

test.each([
  [pair, { ...room, temperature: celsius(150) }, { what: 'temperature', found: 150 }],
  [{ ...pair, diameter: mm(0) }, room, { what: 'diameter', found: 0 }],
])('a room or a pair that is out of range is refused by both questions', (of, air, why) => {
  const range = { from: humidityShare(0.3), to: humidityShare(0.6) };
  for (const answer of [seasonOf(of, air), leastGapOver(of, air, range)])
    expect(answer).toMatchObject({ kind: 'out-of-domain', ...why });
});
