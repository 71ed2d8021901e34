// Speeds and the cutter: the maker's limit is hard, two thirds of the bore is the most, nonsense is refused.
import { expect, test } from 'vitest';
import { planRefusalText } from '../../src/core/plan/refusal.ts';
import { cutterTooLarge, overTopSpeed, surfaceSpeed, turnsPerMinute } from '../../src/core/plan/speeds.ts';
import { mm } from '../../src/core/units.ts';

test('a 20 mm cutter at 3000 turns a minute', () => {
  expect(surfaceSpeed(mm(20), turnsPerMinute(3000))).toBeCloseTo(188.4956, 4);
});

test('one turn over the top speed is refused, the top speed itself is not', () => {
  expect(overTopSpeed(turnsPerMinute(6000), turnsPerMinute(6000))).toBeUndefined();
  const over = overTopSpeed(turnsPerMinute(6001), turnsPerMinute(6000));
  expect(over && planRefusalText(over)).toBe(
    "6001 turns a minute is above the maker's top speed of 6000; never run it faster than 6000",
  );
  expect(overTopSpeed(turnsPerMinute(0), turnsPerMinute(6000))).toMatchObject({ what: 'speed' });
});

test('a cutter over two thirds of the bore is refused with the largest that is not', () => {
  expect(cutterTooLarge(mm(20), mm(30))).toBeUndefined();
  const large = cutterTooLarge(mm(25), mm(30));
  expect(large && planRefusalText(large)).toBe(
    'a cutter of 25.0 mm is too large for a bore of 30.0 mm; take one of at most 20.0 mm, two thirds of the bore',
  );
});

test('a cutter of nothing is refused', () => {
  expect(cutterTooLarge(mm(0), mm(30))).toMatchObject({ kind: 'not-positive', what: 'cutter' });
});
