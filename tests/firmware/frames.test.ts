// A thousand caliper frames on the pins of the kept image, many of them damaged, with a bouncing feed wheel beside them.
import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from './board.ts';
import { chanceOf } from './chance.ts';
import { keptImage } from './image.ts';
import { faultsIn, readingsIn, type Spoken, spokenBy, totalsIn } from './spoken.ts';
import {
  CaliperWriter,
  CLOCK_PIN,
  DATA_PIN,
  type Damage,
  fieldsOf,
  SEEN_DAMAGE,
  type Shown,
} from './waveform.ts';
import { QuadratureWheel } from './wheel.ts';

const NPN = { clock: CLOCK_PIN, data: DATA_PIN, inverted: true };
const COMPARATOR = { clock: CLOCK_PIN, data: DATA_PIN, inverted: false };
const FULL_SCALE = 2 ** 20 - 1;

interface Frame {
  readonly shown: Shown;
  readonly damage?: Damage;
  readonly startUs: number;
}

/** Every tenth frame is at an end of the scale; the others anywhere, half of them in inches, a third negative. */
function shownAt(n: number, chance: ReturnType<typeof chanceOf>): Shown {
  const inch = chance.below(2) === 1;
  const negative = chance.below(3) === 0;
  if (n % 10 === 0)
    return { steps: chance.pick([0, 1, FULL_SCALE, FULL_SCALE - 1, 2 ** 19]), negative, inch };
  return { steps: chance.below(FULL_SCALE), negative, inch };
}

/** The readings the board reported while a frame was the last one shown. */
function reportsOf(frames: readonly Frame[], readings: readonly Spoken[]): readonly (readonly string[])[] {
  const reports: string[][] = frames.map(() => []);
  for (const { fields, fromUs } of readings) {
    const frame = frames.findLastIndex(({ startUs }) => startUs + 5_000 <= fromUs);
    reports[frame]?.push(fields);
  }
  return reports;
}

/**
 * Good frames are reported exactly, damaged ones not at all. An edge lost and another added close by is one edge that
 * moved: where it moved so little that it still reads the same level, its frame may be reported, with its own value.
 */
function checkReports(frames: readonly Frame[], spoken: readonly Spoken[]): void {
  const reports = reportsOf(frames, readingsIn(spoken));
  let dropped = 0;
  for (const [n, { shown, damage }] of frames.entries()) {
    const mayPass = damage === 'edge-lost-and-added' && reports[n]?.length === 1;
    const expected = !damage || mayPass ? [fieldsOf(shown)] : [];
    expect(reports[n], `frame ${n}, ${damage ?? 'whole'}`).toEqual(expected);
    if (expected.length === 0) dropped++;
  }
  expect(faultsIn(spoken).filter((code) => code === 'caliper-frame')).toHaveLength(dropped);
}

describe('a thousand frames', () => {
  it('reports every good one exactly, drops every damaged one, and counts the feed beside them', () => {
    const chance = chanceOf(4);
    const board = new SimulatedBoard(keptImage('bench-01'));
    const caliper = new CaliperWriter(board, NPN, chance);
    const wheel = new QuadratureWheel(board, chance);
    board.run(20_000);
    const frames: Frame[] = [];
    let settledTotals = 0;
    for (let block = 0; block < 20; block++) {
      const periodUs = block % 10 === 7 ? 125_000 : 25_000;
      const beginUs = Math.ceil(board.us);
      for (let n = 0; n < 50; n++) {
        const startUs = beginUs + n * periodUs;
        const damage = chance.below(6) === 0 ? chance.pick(SEEN_DAMAGE) : undefined;
        const shown = shownAt(n, chance);
        caliper.show(shown, startUs, damage);
        frames.push({ shown, startUs, ...(damage ? { damage } : {}) });
      }
      const turned = wheel.turn(chance.below(12) + 1, beginUs + 3_000, chance.between(8_000, 20_000), 2);
      wheel.turn(-chance.below(14) - 1, turned + 2_000, chance.between(8_000, 12_000), 2);
      board.run(Math.max(50 * periodUs, 1_300_000));
      expect(totalsIn(spokenBy(board.lines)).at(-1)).toBe(wheel.detents);
      settledTotals++;
    }
    const spoken = spokenBy(board.lines);
    checkReports(frames, spoken);
    expect(frames).toHaveLength(1000);
    expect(frames.filter(({ damage }) => damage).length).toBeGreaterThanOrEqual(100);
    for (const damage of SEEN_DAMAGE) expect(frames.some((frame) => frame.damage === damage)).toBe(true);
    expect(settledTotals).toBe(20);
    expect(wheel.detents).not.toBe(0);
    expect(new Set(faultsIn(spoken))).toEqual(new Set(['caliper-frame']));
  }, 180_000);
});

describe('each kind of damage', () => {
  it.each(SEEN_DAMAGE)('%s: nothing is reported, and the very next frame is', (damage) => {
    const chance = chanceOf(11);
    const board = new SimulatedBoard(keptImage('bench-01'));
    const caliper = new CaliperWriter(board, NPN, chance);
    board.run(20_000);
    const frames: Frame[] = [];
    for (let n = 0; n < 60; n++) {
      const startUs = Math.ceil(board.us);
      const shown = shownAt(n, chance);
      caliper.show(shown, startUs, n % 2 === 0 ? damage : undefined);
      frames.push({ shown, startUs, ...(n % 2 === 0 ? { damage } : {}) });
      board.run(25_000);
    }
    checkReports(frames, spokenBy(board.lines));
  });

  it('level-flipped leaves no trace: a wrong value that only the program can doubt', () => {
    const board = new SimulatedBoard(keptImage('bench-01'));
    const caliper = new CaliperWriter(board, NPN, chanceOf(5));
    board.run(20_000);
    caliper.show({ steps: 5234 }, board.us, 'level-flipped');
    board.run(25_000);
    const spoken = spokenBy(board.lines);
    expect(faultsIn(spoken)).toEqual([]);
    expect(readingsIn(spoken)).toHaveLength(1);
    expect(readingsIn(spoken)[0]?.fields).not.toBe('52.34,mm');
  });
});

describe('the second image', () => {
  it('reads a caliper behind a comparator, which turns nothing over', () => {
    const board = new SimulatedBoard(keptImage('bench-02'));
    const caliper = new CaliperWriter(board, COMPARATOR, chanceOf(3), {
      bitUs: 250,
      gapUs: 620,
      jitter: 0.03,
    });
    board.run(20_000);
    for (const steps of [0, 1, 2060, FULL_SCALE]) {
      caliper.show({ steps, inch: true, negative: true }, board.us);
      board.run(40_000);
    }
    const spoken = spokenBy(board.lines);
    expect(readingsIn(spoken).map(({ fields }) => fields)).toEqual([
      '0.0000,in',
      '-0.0005,in',
      '-1.0300,in',
      '-524.2875,in',
    ]);
    expect(faultsIn(spoken)).toEqual([]);
  });
});
