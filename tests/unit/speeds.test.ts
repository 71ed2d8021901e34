// Speeds, the cutter and a rod that stands out: the maker's limit is hard, two thirds of the bore is the most, a rod's whirl worked by hand.
import { expect, test } from 'vitest';
import { planRefusalText } from '../../src/core/plan/refusal.ts';
import {
  cutterTooLarge,
  overTopSpeed,
  ROD_MATERIALS,
  type Rod,
  rodWhirls,
  turnsPerMinute,
  whirlOf,
} from '../../src/core/plan/speeds.ts';
import { mm } from '../../src/core/units.ts';
import { ofKind } from '../support/of-kind.ts';

test('one turn over the top speed is refused, the top speed itself is not', () => {
  expect(overTopSpeed(turnsPerMinute(6000), turnsPerMinute(6000))).toBeUndefined();
  const over = overTopSpeed(turnsPerMinute(6001), turnsPerMinute(6000));
  expect(over && planRefusalText(over)).toBe(
    "6001 turns a minute is above the maker's top speed of 6000. Never run it faster than 6000",
  );
  expect(overTopSpeed(turnsPerMinute(0), turnsPerMinute(6000))).toMatchObject({ what: 'speed' });
});

test('a cutter over two thirds of the bore is refused with the largest that is not', () => {
  expect(cutterTooLarge(mm(20), mm(30))).toBeUndefined();
  const large = cutterTooLarge(mm(25), mm(30));
  expect(large && planRefusalText(large)).toBe(
    'a cutter of 25.0 mm is too large for a bore of 30.0 mm. Take one of at most 20.0 mm, two thirds of the bore',
  );
});

test('a cutter of nothing is refused', () => {
  expect(cutterTooLarge(mm(0), mm(30))).toMatchObject({ kind: 'not-positive', what: 'cutter' });
});

const rod: Rod = { diameter: mm(8), length: mm(500), material: ROD_MATERIALS.steel };

function whirl(of: Rod): number {
  const found = ofKind('whirl', whirlOf(of));
  return found.at;
}

test('half a metre of 8 mm steel, worked by hand', () => {
  // 1.8751^2 / (2 pi) x (d/4) sqrt(E / rho) / L^2, in turns a minute
  const byHand = ((60 * 1.8751 ** 2) / (2 * Math.PI)) * 0.002 * (Math.sqrt(210e9 / 7850) / 0.25);
  expect(whirl(rod) / byHand).toBeCloseTo(1, 4);
  expect(whirl(rod)).toBeCloseTo(1389, 0);
});

test('a tube whirls faster than the rod it was bored from, by sqrt(1 + (hole/diameter)^2)', () => {
  expect(whirl({ ...rod, hole: mm(6) }) / whirl(rod)).toBeCloseTo(Math.sqrt(1 + 0.75 ** 2), 9);
});

test('past a quarter of the whirl it is warned of, with the length and speed that may be', () => {
  expect(rodWhirls(rod, turnsPerMinute(347))).toBeUndefined();
  const warned = rodWhirls(rod, turnsPerMinute(1389));
  expect(warned && planRefusalText(warned)).toBe(
    'a rod that sticks out this far starts to whirl at 1389 turns a minute. At 1389 let it stick out at most 250.0 mm, or turn at most 347, a quarter of the speed at which it whirls',
  );
});

test('no rod, no whirl', () => {
  expect(whirlOf({ ...rod, diameter: mm(0) })).toMatchObject({ what: 'rod diameter' });
  expect(whirlOf({ ...rod, length: mm(Number.NaN) })).toMatchObject({ what: 'length of rod standing out' });
  expect(whirlOf({ ...rod, hole: mm(8) })).toMatchObject({ what: 'wall of the rod', found: 0 });
  expect(whirlOf({ ...rod, hole: mm(10) })).toMatchObject({ what: 'wall of the rod', found: -1 });
  expect(whirlOf({ ...rod, hole: mm(-1) })).toMatchObject({ what: 'hole through the rod' });
  expect(whirlOf({ ...rod, length: mm(1e200) })).toMatchObject({ what: 'whirling speed', found: 0 });
  expect(rodWhirls({ ...rod, diameter: mm(0) }, turnsPerMinute(1000))).toMatchObject({
    what: 'rod diameter',
  });
  expect(rodWhirls(rod, turnsPerMinute(0))).toMatchObject({ kind: 'not-positive', what: 'speed', found: 0 });
});
