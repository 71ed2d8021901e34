// The feed on the kept images: exact at any speed it can count, and at any other an overrun said before a wrong total.
import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from './board.ts';
import { chanceOf } from './chance.ts';
import { keptImage } from './image.ts';
import { faultsIn, spokenBy, totalsIn } from './spoken.ts';
import { CLOCK_PIN } from './waveform.ts';
import { FEED_A, FEED_B, QuadratureWheel, StepWheel } from './wheel.ts';

function started(facts: string): SimulatedBoard {
  const board = new SimulatedBoard(keptImage(facts));
  board.run(20_000);
  return board;
}

/** The totals told before any overrun; all of them where there was none. */
function believedTotals(board: SimulatedBoard): readonly number[] {
  const spoken = spokenBy(board.lines);
  const overrun = spoken.findIndex(
    ({ message }) => message.kind === 'fault' && message.code === 'feed-overrun',
  );
  return totalsIn(overrun < 0 ? spoken : spoken.slice(0, overrun));
}

const overruns = (board: SimulatedBoard): number =>
  faultsIn(spokenBy(board.lines)).filter((code) => code === 'feed-overrun').length;

describe('a quadrature wheel', () => {
  it('is counted exactly forwards and back while its contacts bounce', () => {
    const board = started('bench-01');
    const wheel = new QuadratureWheel(board, chanceOf(7));
    for (const [detents, detentUs] of [
      [5, 200_000],
      [-8, 60_000],
      [40, 9_000],
      [-37, 14_000],
    ] as const) {
      const end = wheel.turn(detents, board.us, detentUs, 8);
      board.run(end - board.us + 30_000);
      expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(wheel.detents);
    }
    expect(wheel.detents).toBe(0);
    expect(overruns(board)).toBe(0);
  });

  it('tells every detent of a hand by itself', () => {
    const board = started('bench-01');
    const wheel = new QuadratureWheel(board, chanceOf(2));
    board.run(wheel.turn(6, board.us, 50_000, 4) - board.us + 30_000);
    expect([...new Set(totalsIn(spokenBy(board.lines)))]).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });

  it.each([20_000, 4_000, 1_000, 500, 440])('is exact at %i us a detent', (detentUs) => {
    const board = started('bench-01');
    const wheel = new QuadratureWheel(board, chanceOf(1));
    board.run(wheel.turn(60, board.us, detentUs) - board.us + 30_000);
    expect(overruns(board)).toBe(0);
    expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(60);
  });

  it.each([380, 200, 100, 40, 20, 12, 6, 3])('overruns once at %i us a detent', (detentUs) => {
    const board = started('bench-01');
    const wheel = new QuadratureWheel(board, chanceOf(1));
    board.run(wheel.turn(200, board.us, detentUs) - board.us + 30_000);
    expect(overruns(board)).toBe(1);
    expect(believedTotals(board).every((total) => total >= 0 && total <= 1)).toBe(true);
  });

  it('is told again, from wherever it is, once the overrun is over', () => {
    const board = started('bench-01');
    const wheel = new QuadratureWheel(board, chanceOf(1));
    board.run(wheel.turn(200, board.us, 40) - board.us + 400_000);
    const base = totalsIn(spokenBy(board.lines)).at(-1) ?? Number.NaN;
    board.run(wheel.turn(5, board.us, 20_000, 3) - board.us + 30_000);
    expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(base + 5);
    expect(overruns(board)).toBe(1);
  });
});

describe('a wheel of one pulse a detent', () => {
  it.each([400_000, 30_000, 4_000, 2_200])('is exact at %i us a detent', (detentUs) => {
    const board = started('bench-02');
    const wheel = new StepWheel(board);
    board.run(wheel.turn(12, board.us, detentUs) - board.us + 20_000);
    expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(12);
    board.run(wheel.turn(-20, board.us, detentUs) - board.us + 20_000);
    expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(-8);
    expect(overruns(board)).toBe(0);
  });

  it.each([1_800, 900, 300, 40, 10])('overruns at %i us a detent', (detentUs) => {
    const board = started('bench-02');
    const wheel = new StepWheel(board);
    board.run(wheel.turn(200, board.us, detentUs) - board.us + 30_000);
    expect(overruns(board)).toBeGreaterThanOrEqual(1);
    expect(believedTotals(board).every((total) => total >= 0 && total <= 1)).toBe(true);
  });

  it('passes over spikes on a long lead', () => {
    const board = started('bench-02');
    for (let n = 0; n < 40; n++) {
      board.at(board.us + n * 5_000, () => board.drive(FEED_A, false));
      board.at(board.us + n * 5_000 + 30, () => board.drive(FEED_A, true));
    }
    board.run(1_300_000);
    expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(0);
    expect(overruns(board)).toBe(0);
  });
});

describe('a lead gone wild', () => {
  /** Toggles a pin every 5 us for a while. */
  function storm(board: SimulatedBoard, pin: typeof FEED_A, us: number): void {
    const from = board.us;
    for (let n = 0; n * 5 < us; n++) board.at(from + n * 5, () => board.drive(pin, n % 2 === 1));
    board.at(from + us, () => board.drive(pin, true));
    board.run(us);
  }

  it('on the clock costs readings, and neither the feed nor a restart', () => {
    const board = started('bench-01');
    const wheel = new QuadratureWheel(board, chanceOf(9));
    wheel.turn(20, board.us + 20_000, 10_000, 2);
    storm(board, CLOCK_PIN, 300_000);
    board.run(50_000);
    expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(20);
    expect(faultsIn(spokenBy(board.lines))).toEqual(['caliper-frame']);
  });

  it('on the feed is an overrun, and no restart', () => {
    const board = started('bench-01');
    storm(board, FEED_A, 100_000);
    storm(board, FEED_B, 100_000);
    board.run(500_000);
    expect(faultsIn(spokenBy(board.lines))).toEqual(['feed-overrun']);
  });
});
