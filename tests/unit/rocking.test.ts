// What a capture makes of readings: which are rejected, when rocks agree, and why it doubts.
import { describe, expect, test } from 'vitest';
import {
  addReading,
  type Capture,
  finishCapture,
  peaksOf,
  readingsOf,
  recentReadings,
  rejectedReadings,
  startCapture,
} from '../../src/core/measure/capture.ts';
import { defaultSettings, type Side } from '../../src/core/measure/capture-settings.ts';
import { type Verdict, verdictOf } from '../../src/core/measure/verdict.ts';
import { degrees, inches, type LengthUnit } from '../../src/core/units.ts';
import { captured, readingOf, shownAs, untilted } from '../support/readings.ts';

/** A caliper that shows sizes to its step, one reading every 125 ms unless said otherwise. */
class Hand {
  capture: Capture;
  #at = 0;

  constructor(settings = untilted()) {
    this.capture = startCapture(settings);
  }

  /** Sizes one after the other. */
  showsAll(sizes: readonly number[], every = 125): this {
    for (const size of sizes) this.shows(size, 1, 'mm', every);
    return this;
  }

  shows(size: number, times = 1, unit: LengthUnit = 'mm', every = 125): this {
    for (let count = 0; count < times; count++) {
      this.#at += every;
      this.capture = addReading(this.capture, shownAs(size, this.#at, unit));
    }
    return this;
  }

  waits(time: number): this {
    this.#at += time;
    return this;
  }

  /** From side to side across a diameter, 17 readings a rock, 3.6 mm off the diameter at either end. */
  rocks(diameter: number, rocks = 1, unit: LengthUnit = 'mm'): this {
    const sign = this.capture.settings.side === 'bore' ? -1 : 1;
    for (let place = 0; place < 17 * rocks; place++) {
      const e = (((place % 17) - 8) / 8) * 3.6 + 0.1;
      this.shows(Math.sqrt(diameter ** 2 + sign * 4 * e ** 2), 1, unit);
    }
    return this;
  }

  /** Across one diameter after the other. */
  rocksAll(...diameters: readonly number[]): this {
    for (const diameter of diameters) this.rocks(diameter);
    return this;
  }

  /** About a place this far off a bore's diameter by `reach`, a swing in 17 readings, or as many as are given. */
  swings(off: number, reach: number, count: number, { bore = 50, turn = 17, most = 100 } = {}): this {
    for (let place = 0; place < count; place++) {
      const e = off + reach * Math.cos((2 * Math.PI * place) / turn);
      this.shows(Math.min(Math.sqrt(bore ** 2 - 4 * e ** 2), most));
    }
    return this;
  }

  get verdict(): Verdict {
    return verdictOf(this.capture);
  }
  get ended(): Verdict {
    return verdictOf(finishCapture(this.capture));
  }
  get peaks() {
    return peaksOf(finishCapture(this.capture));
  }
  get rejected() {
    return rejectedReadings(finishCapture(this.capture));
  }
  get steady() {
    const { ended } = this;
    if (ended.state !== 'steady') throw new Error(JSON.stringify(ended));
    return ended;
  }
}

const rocked = (...diameters: readonly number[]) => new Hand().rocksAll(...diameters);
const reason = (kind: string, evidence: object = {}) => ({
  state: 'doubtful',
  reason: { kind, ...evidence },
});
/** A rock of 25 readings that is 0.35 mm high. */
const DENSE = Array.from({ length: 25 }, (_, i) => 50 - 0.0024 * (i - 12) ** 2);

describe('the verdict at the end', () => {
  test.each<[string, () => Hand, object]>([
    ['nothing read', () => new Hand(), { ...reason('no-readings'), peaks: 0, agreeing: 0, spread: null }],
    ['nothing rocked', () => new Hand().shows(42.3, 3), reason('not-rocked', { readings: 3 })],
    ['two rocks', () => rocked(42.3, 42.3), reason('too-few-peaks', { found: 2, needed: 3 })],
    [
      'two rocks where two are enough',
      () => new Hand({ ...untilted(), leastPeaks: 2 }).rocks(42.3, 2),
      { state: 'steady', agreeing: 2 },
    ],
    [
      'one rock seated badly',
      () => rocked(42.3, 42.3, 42.1, 42.3, 42.3),
      { state: 'steady', peaks: 5, agreeing: 4 },
    ],
    ['one at the end', () => rocked(42.3, 42.3, 42.3, 42.3, 42.2), { state: 'steady', agreeing: 4 }],
    [
      'one at the beginning',
      () => rocked(42.2, 42.3, 42.3, 42.3, 42.3),
      reason('too-few-peaks', { found: 4, needed: 5 }),
    ],
    [
      'and five that agree',
      () => rocked(42.2, 42.3, 42.3, 42.3, 42.3, 42.3),
      { state: 'steady', agreeing: 5 },
    ],
    ['three sizes', () => rocked(42.3, 42.1, 42.5), reason('peaks-disagree', { agreeing: 1, needed: 3 })],
    ['six sizes', () => rocked(42.3, 41.9, 42.5, 41.7, 42.1, 42.7), reason('peaks-disagree', { needed: 3 })],
    [
      'two rocks beyond three',
      () => rocked(42.3, 42.4, 42.3, 42.36, 42.3),
      reason('peak-beyond', { agreeing: 3, beyond: expect.closeTo(0.1, 2) }),
    ],
    [
      'a rise with every rock',
      () => rocked(42.3, 42.31, 42.32, 42.33, 42.34, 42.35, 42.36, 42.37),
      reason('drifting', { peaks: 8, change: expect.closeTo(0.07, 2) }),
    ],
    ...[0.06, -0.06, 0.3, -0.3].map((slip): [string, () => Hand, object] => [
      `a zero that slips by ${slip}`,
      () => new Hand().rocks(42.3, 4).rocks(42.3 + slip, 4),
      reason('jumped', { change: expect.closeTo(slip, 2) }),
    ]),
    ['jaws held off the diameter', () => new Hand().swings(1.6, 0.4, 102), reason('held-off')],
    ['farther', () => new Hand().swings(2.5, 0.1, 102), { state: 'doubtful' }],
    ['jaws that cross it', () => new Hand().swings(0, 2.4, 102), { state: 'steady' }],
    [
      'two sizes without a reading between them',
      () => new Hand().showsAll(Array.from({ length: 144 }, (_, i) => (i % 24 < 12 ? 49.5 : 50))),
      reason('no-curve'),
    ],
    ['a caliper that reads ten metres', () => new Hand().rocks(10_000, 4), reason('too-many-bad-readings')],
    [
      'an inch caliper',
      () => new Hand().rocks(inches(1.5), 4, 'in'),
      { diameter: expect.closeTo(inches(1.5), 1.8) },
    ],
    [
      'another unit before a peak',
      () => new Hand().shows(42.3, 5).rocks(42.3, 4, 'in'),
      { state: 'steady', agreeing: 4 },
    ],
    [
      'another unit after one',
      () => new Hand().rocks(42.3, 2).rocks(42.3, 2, 'in'),
      { ...reason('unit-changed', { from: 'mm', to: 'in' }), peaks: 2 },
    ],
    ['five readings in it', () => new Hand().rocks(42.3, 2).shows(42.3, 5, 'in'), reason('unit-changed')],
    ['four', () => new Hand().rocks(42.3, 2).shows(42.3, 4, 'in'), reason('too-few-peaks')],
    [
      'three, twice',
      () => new Hand().rocks(42.3, 2).shows(42.3, 3, 'in').shows(42.3).shows(42.3, 3, 'in'),
      reason('too-few-peaks'),
    ],
    [
      'one after a silence',
      () => new Hand().shows(42.3, 3).waits(2000).shows(42.3, 1, 'in').rocks(42.3, 4),
      { state: 'steady', agreeing: 4 },
    ],
    [
      'five readings elsewhere first',
      () => new Hand().shows(42.3, 3).rocks(30, 4),
      { state: 'steady', agreeing: 4 },
    ],
  ])('%s', (_, hand, verdict) => {
    expect(hand().ended).toMatchObject(verdict);
  });

  test.each<Side>(['bore', 'outside'])(
    'four rocks across the same %s agree on it, as sure as the readings are',
    (side) => {
      const { steady } = new Hand(untilted(side)).rocks(42.3, 4);
      expect(steady).toMatchObject({ peaks: 4, agreeing: 4 });
      expect(Math.abs(steady.diameter - 42.3)).toBeLessThan(0.006);
      expect(steady.spread).toBeLessThan(0.002);
      expect(steady.standardUncertainty).toBeGreaterThan(0.0008);
      expect(steady.standardUncertainty).toBeLessThan(0.006);
    },
  );

  test('an unknown tilt of a degree is corrected and adds doubt', () => {
    const plain = new Hand().rocks(42.3, 4).steady;
    const tilted = new Hand(defaultSettings('bore')).rocks(42.3, 4).steady;
    // D T^2 / 6 and D T^2 / sqrt(45) (derived: tilt uniform within a degree)
    const square = plain.diameter * degrees(1) ** 2;
    expect(plain.diameter - tilted.diameter).toBeCloseTo(square / 6, 9);
    const doubt = Math.sqrt(plain.standardUncertainty ** 2 + square ** 2 / 45);
    expect(tilted.standardUncertainty).toBeCloseTo(doubt, 9);
  });

  test('jaws that stop short of the wood leave room for where they stopped', () => {
    const { steady } = new Hand().swings(0.2, 2.6, 64, { turn: 14.6, most: 49.94 });
    expect(Math.abs(steady.diameter - 49.94)).toBeLessThan(2 * steady.standardUncertainty);
  });
});

describe('peaks', () => {
  test('say how high they are, whether they agree, and which readings they are from', () => {
    const { peaks } = rocked(42.3, 42.3, 42.1, 42.3, 42.3);
    expect(peaks.map((peak) => peak.agrees)).toEqual([true, true, false, true, true]);
    expect(Math.abs((peaks[1]?.value ?? 0) - 42.3)).toBeLessThan(0.006);
    expect(peaks[1]?.from.length).toBeGreaterThan(3);
    expect(peaks[1]?.from.every((place) => place >= 17 && place < 34)).toBe(true);
  });

  test.each([
    ['that dips at its top', [42.0, 42.1, 42.2, 42.27, 42.3, 42.26, 42.3, 42.27, 42.2, 42.1, 42.0, 41.9]],
    [
      'with a tremble on its way',
      [40.8, 41.2, 41.6, 41.57, 41.9, 42.15, 42.3, 42.2, 41.95, 41.6, 41.2, 40.8],
    ],
  ])('a rock %s is one', (_, rock) => {
    const { peaks } = new Hand().rocks(42.3, 2).showsAll([...rock, ...rock, ...rock, ...rock]);
    expect(peaks).toHaveLength(6);
    for (const { value } of peaks) expect(Math.abs(value - 42.3)).toBeLessThan(0.05);
  });

  test.each([
    [12, 0.3],
    [12, 0.1],
    [13, 0.1],
  ])('a rock cut in two by reading %d, %d mm low, is one, the better placed of the two', (place, by) => {
    const cut = DENSE.with(place, (DENSE[place] ?? 0) - by);
    const { peaks } = new Hand().showsAll([...DENSE, ...cut, ...DENSE], 40);
    expect(peaks).toHaveLength(3);
    for (const { value } of peaks) expect(Math.abs(value - 50)).toBeLessThan(0.004);
  });

  test('a quick hand that makes small rocks has each of them found', () => {
    const { peaks } = new Hand().swings(0, 1.6, 32, { bore: 73.5, turn: 10.4 });
    expect(peaks.length).toBeGreaterThanOrEqual(5);
  });

  interface Swing {
    readonly side?: Side;
    readonly every?: number;
    /** Milliseconds from side to side. */
    readonly stroke?: number;
    readonly lean?: number;
    readonly strokes?: number;
    readonly reach?: number;
    /** How near to 50 mm each peak is, in micrometres. */
    readonly near?: number;
  }

  test.each<Swing>([
    {},
    { every: 40 },
    { every: 62 },
    { stroke: 1300 },
    { stroke: 700, every: 70 },
    { lean: 0 },
    { lean: -0.8, near: 3.5 },
    { reach: 1.5 },
    { reach: 4.4, strokes: 9, near: 2.5 },
    { side: 'outside' },
    { side: 'outside', every: 40, lean: 0.6 },
  ])(
    'of a hand that swings as a sine, shown without rounding, %o: one a stroke, within 2 um where nothing is said',
    (swing) => {
      const {
        side = 'bore',
        every = 100,
        stroke = 900,
        lean = 0.2,
        strokes = 6,
        reach = 3,
        near = 2,
      } = swing;
      const readings = Array.from({ length: Math.floor((stroke * strokes) / every) }, (_, i) => {
        const at = Math.round(i * every);
        const off = lean + (reach + 0.2 * Math.sin(at / 1700)) * Math.cos((Math.PI * at) / stroke);
        return readingOf(Math.sqrt(2500 + (side === 'bore' ? -1 : 1) * 4 * off ** 2), at);
      });
      const capture = captured(readings, untilted(side));
      const peaks = peaksOf(capture);
      expect(peaks).toHaveLength(strokes);
      for (const peak of peaks) {
        expect(Math.abs(peak.value - 50)).toBeLessThan(near / 1000);
        const times = peak.from.map((place) => readings[place]?.at ?? 0);
        expect(times.length).toBeGreaterThan(3);
        expect(Math.max(...times) - Math.min(...times)).toBeLessThan(stroke);
      }
      const verdict = verdictOf(capture);
      expect(verdict).toMatchObject({ state: 'steady', agreeing: strokes });
      if (verdict.state === 'steady') expect(verdict.standardUncertainty).toBeLessThan(0.004);
    },
  );
});

describe('waiting and doubting before the end', () => {
  const notRocked = reason('not-rocked', { readings: 41 });

  test('nothing read, and jaws held still for forty readings or ten seconds, are waited for', () => {
    const held = (times: number, every: number) => new Hand().shows(42.3, times, 'mm', every).verdict;
    expect([new Hand().verdict, held(40, 300), held(41, 250)]).toEqual(
      new Array(3).fill({ state: 'waiting' }),
    );
    expect(held(41, 251)).toMatchObject(notRocked);
  });

  test('readings held still count from where the jaws came to stand', () => {
    expect(new Hand().shows(30, 3).waits(2000).shows(42.3, 41, 'mm', 251).verdict).toMatchObject(notRocked);
    const moved = new Hand().shows(30, 3).shows(99).shows(12).shows(42.3, 40, 'mm', 251);
    expect(moved.verdict).toEqual({ state: 'waiting' });
    expect(moved.shows(42.3, 1, 'mm', 251).verdict).toMatchObject(notRocked);
    expect(moved.rejected).toEqual([]);
  });

  test('a rock under way is rocking, and so is a hand at rest that has rocked before', () => {
    expect(new Hand().showsAll([42, 42.2]).verdict).toMatchObject({ state: 'rocking', peaks: 0, live: 42.2 });
    const hand = new Hand().rocks(42.3, 2).shows(42.1);
    expect(hand.verdict).toMatchObject({ state: 'rocking', peaks: 2, agreeing: 2, live: 42.1 });
    expect(hand.waits(2000).shows(42.3).verdict).toMatchObject({ state: 'rocking', peaks: 2 });
  });

  test('a low first rock keeps four that agree from being steady, and a fifth makes them so', () => {
    const hand = rocked(42.2, 42.3, 42.3, 42.3, 42.3);
    expect(hand.verdict.state).toBe('rocking');
    expect(hand.rocks(42.3).verdict.state).toBe('steady');
  });

  test('twelve peaks near one another without agreement are doubted at once', () => {
    const hand = new Hand();
    for (let rock = 0; rock < 14; rock++) hand.rocks(42.3 + (0.16 * (((rock * 5) % 14) - 7)) / 2);
    expect(hand.verdict).toMatchObject(reason('peaks-disagree'));
  });

  test('a quarter of the readings may be bad, more are doubted from the twenty-fourth on', () => {
    const hand = new Hand();
    for (let round = 0; round < 7; round++) hand.showsAll([42.3, 42.3, 99]);
    expect(hand.shows(42.3, 2).verdict).toEqual({ state: 'waiting' });
    expect(hand.shows(42.3).verdict).toMatchObject(reason('too-many-bad-readings', { bad: 7, of: 24 }));
    expect(hand.shows(42.3, 4).verdict).toEqual({ state: 'waiting' });
  });
});

describe('readings that no hand could make', () => {
  const beside = (size: number) => () => new Hand().shows(50, 3).shows(size).shows(50, 3);
  const away = (silence: number) => () => new Hand().shows(42.3, 3).waits(silence).shows(30).shows(42.3, 3);

  test.each<[string, () => Hand, readonly number[]]>([
    [
      'a burst of four',
      () => new Hand().rocks(42.3).showsAll([12, 12, 99, 99]).rocks(42.3, 3),
      [17, 18, 19, 20],
    ],
    [
      'not five, which are where the jaws are now',
      () => new Hand().shows(42.3, 3).shows(30, 5).rocks(42.3, 3),
      [],
    ],
    ['not four in a hundred lower', beside(47.96), []],
    ['more', beside(47.9), [3]],
    ['not four in a hundred higher', beside(52.04), []],
    ['more', beside(52.1), [3]],
    ['more than a metre, not even six times', () => new Hand().shows(1000.01, 6), [0, 1, 2, 3, 4, 5]],
    ['not a metre', () => new Hand().shows(1000, 6), []],
    ['one far from the last within 1.5 s', away(1375), [3]],
    ['not after a longer silence', away(1376), []],
    ['not where time goes back', away(-300), []],
    [
      'a silence counts from the reading before it, though that one is in doubt',
      () => new Hand().shows(42.3, 3).shows(99).waits(1300).showsAll([30, 42.3]),
      [3, 4],
    ],
    [
      'those that a peak rejects, among the others',
      () => new Hand().showsAll([...DENSE.with(9, 50.04), 49.5, 49.4, 12, 49.4, 49.3]),
      [9, 27],
    ],
    [
      'four in another unit',
      () => new Hand().rocks(42.3, 2).shows(42.3, 4, 'in').rocks(42.3, 3),
      [34, 35, 36, 37],
    ],
  ])('%s', (_, hand, places) => {
    expect(hand().rejected).toEqual(places);
  });

  test('leave the rest as good as it was', () => {
    const { steady } = new Hand().rocks(42.3).showsAll([12, 12, 99, 99]).rocks(42.3, 3);
    expect(Math.abs(steady.diameter - 42.3)).toBeLessThan(0.006);
    expect(new Hand().rocks(42.3, 2).shows(42.3, 4, 'in').rocks(42.3, 3).steady.agreeing).toBe(5);
    expect(new Hand().shows(42.3, 3).shows(30, 5).verdict).toEqual({ state: 'waiting' });
  });
});

test('every reading is kept in order, and a finished capture takes no more', () => {
  const hand = new Hand().showsAll([42.3, 42.3, 42.4, 99]);
  const shown = (count: number) => recentReadings(hand.capture, count).map(({ value }) => value);
  expect(readingsOf(hand.capture).map(({ value }) => value)).toEqual([42.3, 42.3, 42.4, 99]);
  expect([shown(2), shown(9)]).toEqual([
    [42.4, 99],
    [42.3, 42.3, 42.4, 99],
  ]);
  const ended = finishCapture(hand.capture);
  expect(addReading(ended, readingOf(42.3))).toBe(ended);
});
