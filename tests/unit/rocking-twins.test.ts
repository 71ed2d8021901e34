// What the readings can't show: two different bores, rocked by two hands, give the very same readings.
import { describe, expect, test } from 'vitest';
import { verdictOf } from '../../src/core/measure/verdict.ts';
import { TICK } from '../bench/rocking/hands.ts';
import { PLAIN, type RockOptions, simulateRock } from '../bench/rocking/simulate.ts';
import { hashedChanceFrom } from '../support/chance.ts';
import { captured, shownAs } from '../support/readings.ts';

/** What a caliper shows of these sizes, eight readings a second in steps of 0.01 mm. */
const shownOf = (sizes: readonly number[]) =>
  sizes.filter((_, tick) => tick % Math.round(125 / TICK) === 0).map((size, i) => shownAs(size, 125 * i));

function answerOf(sizes: readonly number[]): number {
  const verdict = verdictOf(captured(shownOf(sizes)));
  return verdict.state === 'steady' ? verdict.diameter : Number.NaN;
}

const chord = (diameter: number, off: number): number => Math.sqrt(diameter ** 2 - 4 * off ** 2);
/** How far off the diameter of a bore the jaws span this chord. */
const offOf = (diameter: number, span: number): number => Math.sqrt(diameter ** 2 - span ** 2) / 2;

/** A hand that sways by `sway` about a place off the diameter, `turns` times, a sway in 1.6 s, its turns `varying` in turn. */
function swaying(place: number, sway: number, varying: number, turns: number): readonly number[] {
  const ticks = 1600 / TICK;
  return Array.from({ length: turns * ticks }, (_, tick) => {
    const wide = sway + (Math.floor(tick / ticks) % 3) * varying;
    return place - sway + wide * (1 - Math.cos((2 * Math.PI * tick) / ticks));
  });
}

describe('a smaller bore, rocked well', () => {
  const held = swaying(2, 0.7, 0.08, 7);
  const larger = held.map((off) => chord(50, off));
  const size = chord(50, 1.3);
  // Where this hand turns back, the other goes on across the diameter.
  const across = larger.map(
    (span, tick) => offOf(size, Math.min(size, span)) * (Math.floor(tick / (1600 / TICK)) % 2 === 0 ? 1 : -1),
  );

  test('shows what jaws held off the diameter of a larger one show, reading for reading', () => {
    expect(shownOf(across.map((off) => chord(size, off)))).toEqual(shownOf(larger));
  });

  test('is rocked by a hand as steady as the other: it crosses at each peak, never faster than 15 mm/s', () => {
    const speeds = across.slice(1).map((off, i) => (Math.abs(off - (across[i] ?? 0)) / TICK) * 1000);
    expect(Math.max(...speeds)).toBeLessThan(15);
    expect(Math.min(...across)).toBeLessThan(-1.5);
    expect(Math.max(...across)).toBeGreaterThan(1.5);
  });

  test('is the answer, as it must be: it is right for the hand that rocks well, and 0.06 mm wrong for the other', () => {
    expect(Math.abs(answerOf(larger) - size)).toBeLessThan(0.005);
    expect(50 - size).toBeGreaterThan(0.06);
  });
});

test('jaws that stop 0.06 mm short of the wood show a smaller bore, and a hand that pauses at its widest point', () => {
  const path = Array.from(
    { length: 8 * 500 },
    (_, tick) => 2.6 * Math.cos((Math.PI * tick) / 500) + 0.3 * Math.sin(tick / 900),
  );
  const clipped = path.map((off) => Math.min(chord(50, off), 49.94));
  const pausing = clipped.map((span) => chord(49.94, offOf(49.94, span)));
  expect(shownOf(pausing)).toEqual(shownOf(clipped));
  expect(Math.abs(answerOf(clipped) - 49.94)).toBeLessThan(0.015);
});

test('a zero that slips up after the first peak shows a larger bore whose first stroke was badly seated', () => {
  const path = Array.from(
    { length: 7 * 500 },
    (_, tick) => (2.6 + 0.4 * Math.sin(tick / 700)) * Math.cos((Math.PI * tick) / 500),
  );
  const slipped = path.map((off, tick) => chord(50, off) + (tick < 500 ? 0 : 0.2));
  const seated = slipped.map(
    (span, tick) => chord(50.2, offOf(50.2, span + (tick < 500 ? 0.2 : 0))) - (tick < 500 ? 0.2 : 0),
  );
  expect(shownOf(seated)).toEqual(shownOf(slipped));
  expect(Math.abs(answerOf(slipped) - 50.2)).toBeLessThan(0.01);
});

test.each([
  { how: 'held-off' },
  { how: 'short' },
  { how: 'one-sided' },
  { trouble: 'clipped' },
] satisfies Partial<RockOptions>[])(
  'the bench counts an answer as told only where the line of %o shows more than it',
  (options) => {
    for (let seed = 1; seed <= 3; seed++) {
      const { sizes, other } = simulateRock(seed, { ...PLAIN, ...options });
      expect(other).not.toBeNull();
      expect(sizes).toContain(other);
    }
    expect(simulateRock(1, PLAIN).other).toBeNull();
  },
);

test('the bench draws nothing for one seed that it draws for the next ones, so its traces count as that many', () => {
  const draws = Array.from({ length: 50 }, (_, seed) => {
    const { uniform } = hashedChanceFrom(seed);
    return Array.from({ length: 50 }, uniform);
  });
  expect(new Set(draws.flat()).size).toBe(50 * 50);
});
