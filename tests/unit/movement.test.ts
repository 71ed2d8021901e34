// Movement across the grain: both forms, where the law changes, and rings that go oval.
import { expect, test } from 'vitest';
import { mm, moisture } from '../../src/core/units.ts';
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

const swell = (shrinkage: number): Swell => {
  const found = swellOf({ shrinkage });
  if (!found) throw new Error(`no wood shrinks ${shrinkage} %`);
  return found;
};
const maple = { radial: swell(4.8), tangential: swell(9.9) };

test('inside 6 to 14 % the coefficient alone speaks', () => {
  const [from, to] = [moisture(7), moisture(11)];
  const alone = changeByCoefficient(mm(52), maple.tangential, from, to);
  expect(changeOf(mm(52), maple.tangential, from, to)).toBeCloseTo(alone, 12);
});

test('outside 6 to 14 % that part of the way is worked out from 30 %', () => {
  const [from, bound, to] = [moisture(10), moisture(14), moisture(20)];
  const inside = changeByCoefficient(mm(52), maple.tangential, from, bound);
  const outside = changeByShrinkage(mm(52 + inside), maple.tangential, bound, to);
  expect(changeOf(mm(52), maple.tangential, from, to)).toBeCloseTo(inside + outside, 12);
  expect(changeOf(mm(52), maple.tangential, moisture(16), moisture(20))).toBeCloseTo(
    changeByShrinkage(mm(52), maple.tangential, moisture(16), moisture(20)),
    12,
  );
});

test('the coefficients hold from 6 to 14 %, both included', () => {
  expect([5.99, 6, 10, 14, 14.01].map((at) => coefficientsHold(moisture(at)))).toEqual([
    false,
    true,
    true,
    true,
    false,
  ]);
});

test('a wood that does not shrink does not move', () => {
  const still = swell(0);
  expect(still).toEqual({ shrinkage: 0, coefficient: 0 });
  expect(changeOf(mm(52), still, moisture(8), moisture(12))).toBe(0);
  expect(changeOf(mm(52), still, moisture(2), moisture(20))).toBeCloseTo(0, 12);
});

test('from green to dry it shrinks by its shrinkage but for the coefficient inside', () => {
  const whole = -changeByShrinkage(mm(100), maple.tangential, moisture(30), moisture(0));
  expect(whole).toBeCloseTo(9.9, 12);
  expect(-changeOf(mm(100), maple.tangential, moisture(30), moisture(0))).toBeCloseTo(9.9, 1);
});

test('the two forms of a wood turn into each other', () => {
  for (const shrinkage of [0.1, 3, 4.8, 9.9, 12.7])
    expect(shrinkageOf(coefficientOf(shrinkage))).toBeCloseTo(shrinkage, 12);
});

test('either form alone gives both, and a coefficient that is known is kept', () => {
  expect(swellOf({ coefficient: 0.002 })).toEqual({ coefficient: 0.002, shrinkage: shrinkageOf(0.002) });
  expect(swellOf({ shrinkage: 6, coefficient: 0.002 })).toEqual({ coefficient: 0.002, shrinkage: 6 });
  expect(swellOf({ shrinkage: 6 })).toEqual({ coefficient: coefficientOf(6), shrinkage: 6 });
});

test('without a shrinkage there are no swelling figures', () => {
  expect(swellOf({})).toBeUndefined();
  expect(swellOf({ shrinkage: -1 })).toBeUndefined();
  expect(swellOf({ shrinkage: 100 })).toBeUndefined();
  expect(swellOf({ shrinkage: Number.NaN })).toBeUndefined();
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
