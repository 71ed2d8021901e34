// A thousand caliper frames on the pins of the kept image, many of them damaged, with a bouncing feed wheel beside them.
import { describe, expect, it } from 'vitest';
import { fastChanceFrom } from '../support/chance.ts';
import { keptBoard } from './board.ts';
import { faultsIn, messagesFrom, readingsIn, type Sent, totalsOf } from './messages.ts';
import {
  CaliperWriter,
  CLOCK_PIN,
  DATA_PIN,
  type Damage,
  fieldsOf,
  LONGEST,
  levelsOf,
  NPN,
  SEEN_DAMAGE,
  type Shown,
} from './waveform.ts';
import { QuadratureWheel } from './wheel.ts';

const COMPARATOR = { clock: CLOCK_PIN, data: DATA_PIN, inverted: false };
interface Frame {
  readonly shown: Shown;
  readonly damage?: Damage;
  readonly startUs: number;
}

/** Every tenth frame is at an end of the scale; the others anywhere, half of them in inches, a third negative. */
function shownAt(n: number, chance: ReturnType<typeof fastChanceFrom>): Shown {
  const inch = chance.below(2) === 1;
  const negative = chance.below(3) === 0;
  const longest = inch ? LONGEST.inch : LONGEST.mm;
  if (n % 10 === 0) return { steps: chance.pick([0, 1, longest, longest - 1, 2 ** 14]), negative, inch };
  return { steps: chance.below(longest), negative, inch };
}

/** The readings the board reported while a frame was the last one shown. */
function reportsOf(frames: readonly Frame[], readings: readonly Sent[]): readonly (readonly string[])[] {
  const reports: string[][] = frames.map(() => []);
  for (const { fields, fromUs } of readings) {
    const frame = frames.findLastIndex(({ startUs }) => startUs + 5_000 <= fromUs);
    reports[frame]?.push(fields);
  }
  return reports;
}

/**
 * The frames that were dropped. A good frame, or one with a spike on its clock, must be reported exactly. An added
 * pulse may be short enough to be a spike, and an edge lost with another added close by is one edge that moved: those
 * frames may be reported, with their own value. Nothing else may.
 */
function droppedOf(frames: readonly Frame[], messages: readonly Sent[]): number {
  const reports = reportsOf(frames, readingsIn(messages));
  let dropped = 0;
  for (const [n, { shown, damage }] of frames.entries()) {
    const must = !damage || damage === 'clock-spike';
    const may = damage === 'edge-added' || damage === 'edge-lost-and-added';
    const expected = must || (may && reports[n]?.length === 1) ? [fieldsOf(shown)] : [];
    expect(reports[n], `frame ${n}, ${damage ?? 'whole'}`).toEqual(expected);
    if (expected.length === 0) dropped++;
  }
  return dropped;
}

describe('a thousand frames', () => {
  it('are reported exactly, or dropped where they are damaged, while the feed beside them is counted', () => {
    const chance = fastChanceFrom(4);
    const board = keptBoard();
    const caliper = new CaliperWriter(board, NPN, chance);
    const wheel = new QuadratureWheel(board, chance);
    board.run(20_000);
    caliper.show({ steps: 1 }, board.us); // the data lead has to move before a zero is believed
    board.run(25_000);
    board.lines.length = 0;
    const frames: Frame[] = [];
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
      expect(totalsOf(board).at(-1)).toBe(wheel.detents);
    }
    const messages = messagesFrom(board.lines);
    const dropped = droppedOf(frames, messages);
    const faults = faultsIn(messages).length;
    expect(dropped).toBeGreaterThan(50);
    expect(faults).toBeGreaterThan(dropped / 5);
    expect(faults).toBeLessThanOrEqual((2 * (messages.at(-1)?.fromUs ?? 0)) / 1e6);
    expect(frames.filter(({ damage }) => damage).length).toBeGreaterThanOrEqual(100);
    for (const damage of SEEN_DAMAGE) expect(frames.some((frame) => frame.damage === damage)).toBe(true);
    expect(wheel.detents).not.toBe(0);
    expect(new Set(faultsIn(messages))).toEqual(new Set(['caliper-frame']));
  }, 180_000);
});

describe('damage that keeps the rhythm', () => {
  it('level-flipped leaves no trace: a wrong value that only the program can question', () => {
    const board = keptBoard();
    const caliper = new CaliperWriter(board, NPN, fastChanceFrom(5));
    board.run(20_000);
    caliper.show({ steps: 5234 }, board.us, 'level-flipped');
    board.run(25_000);
    const messages = messagesFrom(board.lines);
    expect(faultsIn(messages)).toEqual([]);
    expect(readingsIn(messages)).toHaveLength(1);
    expect(readingsIn(messages)[0]?.fields).not.toBe('52.34,mm');
  });
});

describe('the second image', () => {
  it('reads a caliper behind a comparator, which inverts nothing', () => {
    const board = keptBoard('bench-02');
    const rhythm = { bitUs: 250, gapUs: 620, jitter: 0.03 };
    const caliper = new CaliperWriter(board, COMPARATOR, fastChanceFrom(3), rhythm);
    board.run(20_000);
    for (const steps of [0, 1, 2060, LONGEST.inch]) {
      caliper.show({ steps, inch: true, negative: true }, board.us);
      board.run(40_000);
    }
    const messages = messagesFrom(board.lines);
    const shown = ['0.0000,in', '-0.0005,in', '-1.0300,in', '-12.5980,in'];
    expect(readingsIn(messages).map(({ fields }) => fields)).toEqual(shown);
    expect(faultsIn(messages)).toEqual([]);
  });
});

describe('a caliper that is joined wrongly', () => {
  const zero = levelsOf({ steps: 0 });
  /** What each data lead does while frames of these values are shown. */
  const mistakes: readonly [string, (bit: boolean, clock: boolean) => boolean][] = [
    ['upside down', (bit) => !bit],
    ['data lead open or shorted to the common', () => false],
    ['data lead shorted to the plus', () => true],
    ['data lead shorted to the clock lead', (_, clock) => clock],
  ];

  it.each(mistakes)('%s: no reading is ever reported, and caliper-data is', (_, levelOf) => {
    const board = keptBoard();
    const drive = (pin: typeof CLOCK_PIN, high: boolean): void => board.drive(pin, !high);
    board.run(20_000);
    for (let frame = 0; frame < 12; frame++) {
      const levels = frame === 0 ? zero : levelsOf({ steps: 100 * frame });
      for (const [n, bit] of levels.entries()) {
        const us = board.us + 370 * n + 370 * Math.floor(n / 4);
        board.at(us, () => {
          drive(CLOCK_PIN, false);
          drive(DATA_PIN, levelOf(bit, false));
        });
        board.at(us + 185, () => {
          drive(CLOCK_PIN, true);
          drive(DATA_PIN, levelOf(bit, true));
        });
      }
      board.run(100_000);
    }
    const messages = messagesFrom(board.lines);
    expect(readingsIn(messages)).toEqual([]);
    expect(new Set(faultsIn(messages))).toEqual(new Set(['caliper-frame', 'caliper-data']));
  });
});
