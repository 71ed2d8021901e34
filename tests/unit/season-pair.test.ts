// A pair as made: how wet its parts were, which figures are refused, and where its gap turns.
import { describe, expect, test } from 'vitest';
import { celsius, humidityPercent, humidityShare, mm, moisture } from '../../src/core/units.ts';
import { outOfDomainText } from '../../src/core/wood/moisture.ts';
import { ringOf, swellOf } from '../../src/core/wood/movement.ts';
import {
  cornersOf,
  leastGapOver,
  type Made,
  madeMoisture,
  type SeasonAir,
  type SeasonPair,
  seasonOf,
  wetOf,
} from '../../src/core/wood/season.ts';
import { ofKind } from '../support/of-kind.ts';

const figures = (radial: number, tangential: number) => {
  const [r, t] = [swellOf({ shrinkage: radial }), swellOf({ shrinkage: tangential })];
  if (!r || !t) throw new Error('no figures');
  return { radial: r, tangential: t };
};
const meter = (percent: number): Made => ({ kind: 'meter', moisture: moisture(percent) });
const part = { ring: ringOf(figures(4.8, 9.9), 'end'), made: meter(8) };
const pair: SeasonPair = { diameter: mm(52), clearance: mm(0.2), bore: part, spigot: part };

function refusedOf(change: Partial<SeasonPair>): string {
  const found = wetOf({ ...pair, ...change }, 'handbook');
  return found.ok ? 'accepted' : outOfDomainText(found.why);
}

test('a meter says it at once, from 0 to 30 %; more has not begun to shrink', () => {
  for (const percent of [0, 8.5, 30])
    expect(madeMoisture(meter(percent), 'handbook')).toEqual({ ok: true, value: percent });
  for (const found of [-0.1, 30.1, Number.NaN])
    expect(madeMoisture(meter(found), 'newer')).toEqual({
      ok: false,
      why: { kind: 'out-of-domain', what: 'moisture', found, least: 0, most: 30 },
    });
});

test('the air says it by the equation, and is refused as the equation refuses', () => {
  const air = { kind: 'air', temperature: celsius(20), humidity: humidityPercent(45) } as const;
  const found = madeMoisture(air, 'handbook');
  // 8.5 % at 20 C and 45 %, between the Handbook's rows (Wood Handbook, Table 4-2, from memory)
  expect(found.ok && found.value).toBeCloseTo(8.5, 1);
  expect(madeMoisture({ ...air, temperature: celsius(120) }, 'handbook').ok).toBe(false);
});

test('either part out of range refuses the pair', () => {
  expect(wetOf({ ...pair, spigot: { ...part, made: meter(9) } }, 'handbook')).toEqual({
    ok: true,
    value: { bore: 8, spigot: 9 },
  });
  for (const which of ['bore', 'spigot'])
    expect(refusedOf({ [which]: { ...part, made: meter(31) } })).toBe(
      'a moisture content of 31.0 % is outside the range of the shrinkage formulas. Give 0 to 30 %',
    );
});

test('a size out of range is refused with the range', () => {
  expect(refusedOf({ diameter: mm(10_000), clearance: mm(-10_000) })).toBe('accepted');
  expect(refusedOf({ diameter: mm(0) })).toBe(
    "a diameter of 0 mm isn't possible. Give one above 0 and at most 10000 mm",
  );
  expect(refusedOf({ diameter: mm(10_001) })).toContain("a diameter of 10001 mm isn't possible");
  expect(refusedOf({ clearance: mm(10_001) })).toBe(
    "a clearance of 10001 mm isn't possible. Give one from -10000 and at most 10000 mm",
  );
  expect(refusedOf({ clearance: mm(Number.NaN) })).toContain("a clearance of NaN mm isn't possible");
});

test('the gap turns at the ends, where the parts were round and where the law changes, in order', () => {
  const made = { bore: moisture(9), spigot: moisture(7) };
  expect(cornersOf(made, moisture(0), moisture(28))).toEqual([0, 6, 7, 9, 14, 28]);
  expect(cornersOf(made, moisture(7), moisture(14))).toEqual([7, 9, 14]);
});

test('a pair with room to spare runs in any air, and says that it does not bind there', () => {
  const roomy = seasonOf({ ...pair, clearance: mm(5) }, { by: 'handbook', temperature: celsius(20) });
  expect(roomy).toMatchObject({
    kind: 'runs',
    from: { humidity: 0, moisture: 0, binds: false },
    to: { humidity: 1, binds: false },
  });
});

test('a pair that never runs says how near it comes, and in what air', () => {
  const room = { by: 'handbook', temperature: celsius(20) } as const;
  const never = ofKind('never', seasonOf({ ...pair, clearance: mm(-0.1) }, room));
  expect(never.bestGap).toBeCloseTo(-0.1, 9);
  expect(never.short).toBeCloseTo(0.1, 9);
  const there = madeMoisture({ kind: 'air', temperature: room.temperature, humidity: never.bestAt }, room.by);
  expect(there.ok && there.value).toBeCloseTo(8, 6);
});

test('wood that never moves keeps its gap: large enough in any air, or too small in all', () => {
  const still = { ring: ringOf(figures(0, 0), 'end'), made: meter(8) };
  const stillPair = { ...pair, clearance: mm(0.0625), bore: still, spigot: still };
  const room = { by: 'handbook', temperature: celsius(20) } as const;
  expect(seasonOf(stillPair, room, mm(0.0625))).toMatchObject({ kind: 'runs', from: { humidity: 0 } });
  expect(seasonOf(stillPair, room, mm(0.125))).toMatchObject({
    kind: 'never',
    bestGap: 0.0625,
    short: 0.0625,
  });
});

describe('over a range of humidity', () => {
  const room: SeasonAir = { by: 'handbook', temperature: celsius(20) };
  const over = (from: number, to: number, by: SeasonAir['by'] = 'handbook') =>
    leastGapOver(pair, { ...room, by }, { from: humidityPercent(from), to: humidityPercent(to) });

  test('the least gap is met at the end that is farther from the air it was made in, in either order', () => {
    expect(over(45, 80)).toMatchObject({ kind: 'least', at: 0.8 });
    expect(over(10, 45)).toMatchObject({ kind: 'least', at: 0.1 });
    expect(over(80, 45)).toEqual(over(45, 80));
    expect(over(45, 10)).toEqual(over(10, 45));
    const once = over(80, 80);
    expect(once).toEqual(over(45, 80));
  });

  test("saturated air is where swelling ends, more isn't possible", () => {
    const newer = over(45, 100, 'newer');
    expect(newer).toMatchObject({ kind: 'least', at: 1, moisture: 30 });
    expect(over(45, 100)).toMatchObject({ kind: 'least', at: 1 });
    expect(leastGapOver(pair, room, { from: humidityPercent(45), to: humidityShare(1.5) })).toMatchObject({
      kind: 'out-of-domain',
      what: 'humidity',
      found: 1.5,
    });
    expect(over(-1, 45)).toMatchObject({ kind: 'out-of-domain', what: 'humidity', found: -0.01 });
  });

  test('a room of 150 degrees is refused before anything is worked out', () => {
    const hot: SeasonAir = { ...room, temperature: celsius(150) };
    const refused = { kind: 'out-of-domain', what: 'temperature', found: 150 };
    expect(seasonOf(pair, hot)).toMatchObject(refused);
    expect(leastGapOver(pair, hot, { from: humidityShare(0.3), to: humidityShare(0.6) })).toMatchObject(
      refused,
    );
    expect(seasonOf({ ...pair, diameter: mm(0) }, room)).toMatchObject({ what: 'diameter' });
    expect(
      leastGapOver({ ...pair, diameter: mm(0) }, room, { from: humidityShare(0.3), to: humidityShare(0.6) }),
    ).toMatchObject({ what: 'diameter' });
  });
});
