// The feed on the kept images: counted exactly, or an overrun said before a wrong total. figures.test.ts measures the speeds between.
import { describe, expect, it } from 'vitest';
import { fastChanceFrom } from '../support/chance.ts';
import { type SimulatedBoard, started } from './board.ts';
import { faultsIn, faultsOf, messagesFrom, totalsIn, totalsOf } from './messages.ts';
import { CLOCK_PIN } from './waveform.ts';
import { FEED_A, FEED_B, QuadratureWheel, StepWheel } from './wheel.ts';

const overruns = (board: SimulatedBoard): number =>
  faultsOf(board).filter((code) => code === 'feed-overrun').length;

/** Nothing but the first detent was told before the overrun, if any. */
function expectNothingWrong(board: SimulatedBoard): void {
  const messages = messagesFrom(board.lines);
  const overrun = messages.findIndex(
    ({ message }) => message.kind === 'fault' && message.code === 'feed-overrun',
  );
  const before = overrun < 0 ? messages : messages.slice(0, overrun);
  expect(totalsIn(before).filter((total) => total < 0 || total > 1)).toEqual([]);
}

function quadrature(seed: number) {
  const board = started('bench-01');
  return { board, wheel: new QuadratureWheel(board, fastChanceFrom(seed)) };
}

describe('a quadrature wheel', () => {
  it('is counted exactly forwards and back while its contacts bounce', () => {
    const { board, wheel } = quadrature(7);
    for (const [detents, detentUs] of [
      [5, 200_000],
      [-8, 60_000],
      [40, 9_000],
      [-37, 14_000],
    ] as const) {
      wheel.turned(detents, detentUs, 8);
      expect(totalsOf(board).at(-1)).toBe(wheel.detents);
    }
    expect(wheel.detents).toBe(0);
    expect(overruns(board)).toBe(0);
  });

  it('reports every detent of a hand', () => {
    const { board, wheel } = quadrature(2);
    wheel.turned(6, 50_000, 4);
    expect([...new Set(totalsOf(board))]).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });

  it.each([380, 200, 100, 40, 20, 12, 6, 3])('overruns once at %i us a detent', (detentUs) => {
    const { board, wheel } = quadrature(1);
    wheel.turned(200, detentUs);
    expect(overruns(board)).toBe(1);
    expectNothingWrong(board);
  });

  it('is counted again from where it is once the overrun is over', () => {
    const { board, wheel } = quadrature(1);
    wheel.turned(200, 40);
    board.run(370_000);
    const base = totalsOf(board).at(-1) ?? Number.NaN;
    wheel.turned(5, 20_000, 3);
    expect(totalsOf(board).at(-1)).toBe(base + 5);
    expect(overruns(board)).toBe(1);
  });
});

describe('spikes on both feed lines at rest', () => {
  it.each([0, 5, 20, 35])('change nothing when one comes %i us after the other', (skewUs) => {
    const board = started('bench-01');
    for (let n = 0; n < 40; n++) {
      const us = board.us + n * 5_000;
      board.at(us, () => board.drive(FEED_A, false));
      board.at(us + skewUs, () => board.drive(FEED_B, false));
      board.at(us + skewUs + 25, () => board.drive(FEED_A, true));
      board.at(us + 2 * skewUs + 25, () => board.drive(FEED_B, true));
    }
    board.run(300_000);
    expect(overruns(board)).toBe(0);
    expect(new Set(totalsOf(board))).toEqual(new Set([0]));
  });
});

describe('sensors whose windows do not overlap', () => {
  it('are reported within four detents, and no total follows', () => {
    const board = started('bench-01');
    for (let detent = 0; detent < 4; detent++) {
      for (const [n, pin] of [FEED_A, FEED_B].entries()) {
        const us = board.us + detent * 40_000 + n * 15_000;
        board.at(us, () => board.drive(pin, false));
        board.at(us + 8_000, () => board.drive(pin, true));
      }
    }
    board.run(3_000_000);
    const messages = messagesFrom(board.lines);
    expect(faultsIn(messages).slice(0, 2)).toEqual(['feed-windows', 'feed-overrun']);
    const reported = messages.findIndex(({ message }) => message.kind === 'fault');
    expect(totalsIn(messages.slice(reported))).toEqual([]);
  });
});

describe('a wheel of one pulse a detent', () => {
  it.each([1_800, 900, 300, 40, 10])('overruns at %i us a detent', (detentUs) => {
    const board = started('bench-02');
    new StepWheel(board).turned(200, detentUs);
    expect(overruns(board)).toBeGreaterThanOrEqual(1);
    expectNothingWrong(board);
  });

  it('ignores spikes on a long lead', () => {
    const board = started('bench-02');
    for (let n = 0; n < 40; n++) {
      board.at(board.us + n * 5_000, () => board.drive(FEED_A, false));
      board.at(board.us + n * 5_000 + 30, () => board.drive(FEED_A, true));
    }
    board.run(1_300_000);
    expect(totalsOf(board).at(-1)).toBe(0);
    expect(overruns(board)).toBe(0);
  });
});

describe('a lead full of noise', () => {
  /** Toggles a pin every 5 us for a while. */
  function storm(board: SimulatedBoard, pin: typeof FEED_A, us: number): void {
    const from = board.us;
    for (let n = 0; n * 5 < us; n++) board.at(from + n * 5, () => board.drive(pin, n % 2 === 1));
    board.at(from + us, () => board.drive(pin, true));
    board.run(us);
  }

  it('costs readings on the clock, but no feed count and no restart', () => {
    const { board, wheel } = quadrature(9);
    wheel.turn(20, board.us + 20_000, 10_000, 2);
    storm(board, CLOCK_PIN, 300_000);
    board.run(50_000);
    expect(totalsOf(board).at(-1)).toBe(20);
    expect(faultsOf(board)).toEqual(['caliper-frame']);
    storm(board, CLOCK_PIN, 1_000_000);
    expect(faultsOf(board).slice(1)).toContain('caliper-noise');
    expect(faultsOf(board)).not.toContain('caliper-silent');
  });

  it('is an overrun on the feed, and no restart', () => {
    const board = started('bench-01');
    storm(board, FEED_A, 100_000);
    storm(board, FEED_B, 100_000);
    board.run(500_000);
    expect(faultsOf(board)).toEqual(['feed-overrun']);
  });
});
