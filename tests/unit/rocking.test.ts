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
import { type CaptureSettings, defaultSettings, type Side } from '../../src/core/measure/capture-settings.ts';
import type { Reading } from '../../src/core/measure/reading.ts';
import { type Verdict, verdictOf } from '../../src/core/measure/verdict.ts';
import { degrees, inches, type LengthUnit, MM_PER_INCH, millis, mm } from '../../src/core/units.ts';

const untilted = (side: Side): CaptureSettings => ({ ...defaultSettings(side), tiltHalfRange: degrees(0) });

/** A caliper that shows sizes to its step, one reading every 125 ms unless said otherwise. */
class Hand {
  capture: Capture;
  #at = 0;

  constructor(settings: CaptureSettings = untilted('bore')) {
    this.capture = startCapture(settings);
  }

  /** Sizes one after the other. */
  showsAll(sizes: readonly number[]): this {
    for (const size of sizes) this.shows(size);
    return this;
  }

  shows(size: number, times = 1, unit: LengthUnit = 'mm', every = 125): this {
    const step = unit === 'mm' ? 0.01 : 0.0005 * MM_PER_INCH;
    for (let count = 0; count < times; count++) {
      this.#at += every;
      const value = unit === 'mm' ? mm(Math.round(size * 100) / 100) : inches(Math.round(size / step) / 2000);
      const reading: Reading = { value, unit, step: mm(step), text: String(value), at: millis(this.#at) };
      this.capture = addReading(this.capture, reading);
    }
    return this;
  }

  waits(time: number): this {
    this.#at += time;
    return this;
  }

  /** From side to side across a diameter, 17 readings a rock; `reach` off the diameter at either end. */
  rocks(diameter: number, rocks = 1, unit: LengthUnit = 'mm', reach = 3.6): this {
    const sign = this.capture.settings.side === 'bore' ? -1 : 1;
    for (let place = 0; place < 17 * rocks; place++) {
      const e = (((place % 17) - 8) / 8) * reach + 0.1;
      this.shows(Math.sqrt(diameter ** 2 + sign * 4 * e ** 2), 1, unit);
    }
    return this;
  }

  get verdict(): Verdict {
    return verdictOf(this.capture);
  }
  get ended(): Verdict {
    return verdictOf(finishCapture(this.capture));
  }
}

describe('agreement', () => {
  test.each(['bore', 'outside'] as const)('four rocks across the same %s agree on it', (side) => {
    const { ended } = new Hand(untilted(side)).rocks(42.3, 4);
    expect(ended).toMatchObject({ state: 'steady', peaks: 4, agreeing: 4 });
    if (ended.state !== 'steady') return;
    expect(Math.abs(ended.diameter - 42.3)).toBeLessThan(0.006);
    expect(ended.spread).toBeLessThan(0.002);
    expect(ended.standardUncertainty).toBeGreaterThan(0.0008);
    expect(ended.standardUncertainty).toBeLessThan(0.006);
  });

  test('an unknown tilt of a degree is corrected and adds doubt', () => {
    const plain = new Hand().rocks(42.3, 4).ended;
    const tilted = new Hand(defaultSettings('bore')).rocks(42.3, 4).ended;
    if (plain.state !== 'steady' || tilted.state !== 'steady') throw new Error('not agreed');
    // D T^2 / 6 and D T^2 / sqrt(45) (derived: tilt uniform within a degree)
    const square = plain.diameter * degrees(1) ** 2;
    expect(plain.diameter - tilted.diameter).toBeCloseTo(square / 6, 9);
    const doubt = Math.sqrt(plain.standardUncertainty ** 2 + square ** 2 / 45);
    expect(tilted.standardUncertainty).toBeCloseTo(doubt, 9);
  });

  test('the number of peaks that must agree is a setting', () => {
    const two = new Hand({ ...untilted('bore'), leastPeaks: 2 }).rocks(42.3, 2);
    expect(two.ended).toMatchObject({ state: 'steady', agreeing: 2 });
    expect(new Hand().rocks(42.3, 2).ended).toMatchObject({
      state: 'doubtful',
      reason: { kind: 'too-few-peaks', found: 2, needed: 3 },
    });
  });

  test('one rock badly seated, and so lower, does not speak against four that agree', () => {
    const hand = new Hand().rocks(42.3, 2).rocks(42.1).rocks(42.3, 2);
    expect(hand.ended).toMatchObject({ state: 'steady', peaks: 5, agreeing: 4 });
    const agrees = peaksOf(finishCapture(hand.capture)).map((peak) => peak.agrees);
    expect(agrees).toEqual([true, true, false, true, true]);
  });

  test('rocks of as many sizes as there are rocks do not agree', () => {
    const hand = new Hand().rocks(42.3).rocks(41.9).rocks(42.5).rocks(41.7).rocks(42.1).rocks(42.7);
    expect(hand.ended).toMatchObject({ state: 'doubtful' });
    expect(hand.ended).toMatchObject({ reason: { kind: 'peaks-disagree', needed: 3 } });
  });

  test('three rocks of three sizes are enough, and do not agree', () => {
    expect(new Hand().rocks(42.3).rocks(42.1).rocks(42.5).ended).toMatchObject({
      reason: { kind: 'peaks-disagree', agreeing: 1, needed: 3 },
    });
  });

  test('two peaks beyond three that agree are too many, and the farthest is told', () => {
    const hand = new Hand().rocks(42.3).rocks(42.4).rocks(42.3).rocks(42.36).rocks(42.3);
    expect(hand.ended).toMatchObject({
      state: 'doubtful',
      reason: { kind: 'peak-beyond', agreeing: 3, beyond: expect.closeTo(0.1, 2) },
    });
  });

  test('a rock that dips at its top is one, and so is one with a tremble on its way', () => {
    const once = [42.0, 42.1, 42.2, 42.27, 42.3, 42.26, 42.3, 42.27, 42.2, 42.1, 42.0, 41.9];
    const dipped = new Hand().rocks(42.3, 2);
    for (let rock = 0; rock < 4; rock++) dipped.showsAll(once);
    expect(peaksOf(finishCapture(dipped.capture))).toHaveLength(6);
    const trembling = new Hand().rocks(42.3, 2);
    for (let rock = 0; rock < 4; rock++)
      trembling.showsAll([40.8, 41.2, 41.6, 41.57, 41.9, 42.15, 42.3, 42.2, 41.95, 41.6, 41.2, 40.8]);
    const peaks = peaksOf(finishCapture(trembling.capture));
    expect(peaks).toHaveLength(6);
    for (const { value } of peaks) expect(Math.abs(value - 42.3)).toBeLessThan(0.05);
  });

  test('peaks that rise by a step with every rock drift', () => {
    const hand = new Hand();
    for (let rock = 0; rock < 8; rock++) hand.rocks(42.3 + 0.01 * rock);
    expect(hand.ended).toMatchObject({
      state: 'doubtful',
      reason: { kind: 'drifting', peaks: 8 },
    });
    const { ended } = hand;
    if (ended.state === 'doubtful' && ended.reason.kind === 'drifting')
      expect(ended.reason.change).toBeCloseTo(0.07, 2);
  });
});

describe('hands and calipers that make peaks agree on a wrong size', () => {
  /** A hand that swings by `reach` about a place this far off the diameter, each swing alike, 17 readings a swing. */
  const swings = (off: number, reach: number, times: number) => {
    const hand = new Hand();
    for (let place = 0; place < 17 * times; place++) {
      const e = off + reach * Math.cos((2 * Math.PI * place) / 17);
      hand.shows(Math.sqrt(50 ** 2 - 4 * e ** 2));
    }
    return hand;
  };

  test('jaws held off the diameter never cross it, and are recognised by valleys as alike as the peaks', () => {
    expect(swings(1.6, 0.4, 6).ended).toMatchObject({ state: 'doubtful', reason: { kind: 'held-off' } });
    expect(swings(2.5, 0.1, 6).ended).toMatchObject({ state: 'doubtful' });
    expect(swings(0, 2.4, 6).ended).toMatchObject({ state: 'steady' });
  });

  test.each([0.06, -0.06, 0.3, -0.3])('a zero that slips by %f midway is a jump', (slip) => {
    const { ended } = new Hand().rocks(42.3, 4).rocks(42.3 + slip, 4);
    if (ended.state !== 'doubtful' || ended.reason.kind !== 'jumped') throw new Error(JSON.stringify(ended));
    expect(ended.reason.change).toBeCloseTo(slip, 2);
  });

  test('one peak lower than the rest at the end is a bad seat and no jump', () => {
    expect(new Hand().rocks(42.3, 4).rocks(42.2).ended.state).toBe('steady');
  });

  test('one at the beginning may be a zero that slipped: two more rocks must agree', () => {
    const hand = new Hand().rocks(42.2).rocks(42.3, 4);
    expect(hand.verdict.state).toBe('rocking');
    expect(hand.ended).toMatchObject({ reason: { kind: 'too-few-peaks', found: 4, needed: 5 } });
    expect(hand.rocks(42.3).verdict).toMatchObject({ state: 'steady', peaks: 6, agreeing: 5 });
  });

  test('jaws that stop short of the wood leave room for where they stopped', () => {
    const hand = new Hand();
    for (let place = 0; place < 64; place++) {
      const e = 0.2 + 2.6 * Math.cos((Math.PI * place) / 7.3);
      hand.shows(Math.min(Math.sqrt(50 ** 2 - 4 * e ** 2), 49.94));
    }
    const { ended } = hand;
    if (ended.state !== 'steady') throw new Error(JSON.stringify(ended));
    expect(Math.abs(ended.diameter - 49.94)).toBeLessThan(2 * ended.standardUncertainty);
  });

  test('a quick hand that makes small rocks has each of them found', () => {
    const hand = new Hand();
    for (let place = 0; place < 32; place++)
      hand.shows(Math.sqrt(73.5 ** 2 - 4 * (1.6 * Math.cos((Math.PI * place) / 5.2)) ** 2));
    expect(peaksOf(finishCapture(hand.capture)).length).toBeGreaterThanOrEqual(5);
  });

  test('two sizes in turn without a reading between them have no curve', () => {
    const hand = new Hand();
    for (let time = 0; time < 6; time++) hand.shows(49.5, 12).shows(50, 12);
    expect(hand.ended).toMatchObject({ state: 'doubtful', reason: { kind: 'no-curve' } });
  });

  test('a caliper that reads ten metres is out of order', () => {
    expect(new Hand().rocks(10_000, 4).ended).toMatchObject({ reason: { kind: 'too-many-bad-readings' } });
  });

  test('a drift too small to refuse makes the diameter less sure', () => {
    const drifting = new Hand();
    for (let rock = 0; rock < 8; rock++) drifting.rocks(42.3 + 0.0025 * rock);
    const { ended } = drifting;
    const still = new Hand().rocks(42.3, 8).ended;
    if (ended.state !== 'steady' || still.state !== 'steady')
      throw new Error(`${ended.state} ${still.state}`);
    expect(ended.standardUncertainty).toBeGreaterThan(3 * still.standardUncertainty);
    expect(Math.abs(ended.diameter - 42.3)).toBeLessThan(2 * ended.standardUncertainty);
  });
});

describe('waiting and doubting before the end', () => {
  test('nothing read is waiting, and ended it wants a caliper', () => {
    expect(new Hand().verdict).toEqual({ state: 'waiting' });
    expect(new Hand().ended).toEqual({
      state: 'doubtful',
      reason: { kind: 'no-readings' },
      peaks: 0,
      agreeing: 0,
      spread: null,
    });
  });

  test('jaws held still are waited for, for forty readings and ten seconds', () => {
    expect(new Hand().shows(42.3, 40, 'mm', 300).verdict).toEqual({ state: 'waiting' });
    expect(new Hand().shows(42.3, 41, 'mm', 250).verdict).toEqual({ state: 'waiting' });
    expect(new Hand().shows(42.3, 41, 'mm', 251).verdict).toMatchObject({
      state: 'doubtful',
      reason: { kind: 'not-rocked', readings: 41 },
    });
    expect(new Hand().shows(42.3, 3).ended).toMatchObject({ reason: { kind: 'not-rocked', readings: 3 } });
  });

  test('while it runs it says the live reading and the number of peaks', () => {
    const hand = new Hand().rocks(42.3, 2);
    expect(hand.verdict).toMatchObject({ state: 'rocking', peaks: 2, agreeing: 2 });
    hand.shows(42.1);
    expect(hand.verdict).toMatchObject({ live: 42.1 });
  });

  test('a rock under way is rocking, and so is a hand at rest that has rocked before', () => {
    expect(new Hand().shows(42).shows(42.2).verdict).toMatchObject({
      state: 'rocking',
      peaks: 0,
      live: 42.2,
    });
    expect(new Hand().rocks(42.3, 2).waits(2000).shows(42.3).verdict).toMatchObject({
      state: 'rocking',
      peaks: 2,
    });
  });

  test('readings held still count from where the jaws came to stand', () => {
    const hand = new Hand().shows(30, 3).waits(2000).shows(42.3, 41, 'mm', 251);
    expect(hand.verdict).toMatchObject({ reason: { kind: 'not-rocked', readings: 41 } });
    const moved = new Hand().shows(30, 3).shows(99).shows(12).shows(42.3, 40, 'mm', 251);
    expect(moved.verdict).toEqual({ state: 'waiting' });
    expect(moved.shows(42.3, 1, 'mm', 251).verdict).toMatchObject({ reason: { readings: 41 } });
    expect(rejectedReadings(moved.capture)).toEqual([]);
  });

  test('twelve peaks near one another without agreement are doubted at once', () => {
    const hand = new Hand();
    for (let rock = 0; rock < 14; rock++) hand.rocks(42.3 + (0.16 * (((rock * 5) % 14) - 7)) / 2);
    expect(hand.verdict).toMatchObject({ state: 'doubtful', reason: { kind: 'peaks-disagree' } });
  });
});

describe('readings that no hand could make', () => {
  test('a burst of four is rejected and named by its places', () => {
    const hand = new Hand().rocks(42.3, 1).shows(12, 2).shows(99, 2).rocks(42.3, 3);
    expect(rejectedReadings(finishCapture(hand.capture))).toEqual([17, 18, 19, 20]);
    const { ended } = hand;
    expect(ended.state === 'steady' && Math.abs(ended.diameter - 42.3)).toBeLessThan(0.006);
  });

  test('five in a row elsewhere are where the jaws are now', () => {
    const hand = new Hand().shows(42.3, 3).shows(30, 5).rocks(42.3, 3);
    expect(rejectedReadings(hand.capture)).toEqual([]);
    expect(new Hand().shows(42.3, 3).shows(30, 5).verdict).toEqual({ state: 'waiting' });
    expect(new Hand().shows(42.3, 3).rocks(30, 4).ended).toMatchObject({ state: 'steady', agreeing: 4 });
  });

  test('a fall of four in a hundred is a hand, more is not', () => {
    const alone = (size: number) =>
      rejectedReadings(new Hand().shows(50, 3).shows(size).shows(50, 3).capture);
    expect(alone(47.96)).toEqual([]);
    expect(alone(47.9)).toEqual([3]);
    expect(alone(52.04)).toEqual([]);
    expect(alone(52.1)).toEqual([3]);
  });

  test('more than a metre is never accepted, not even five times', () => {
    const hand = new Hand().shows(1000.01, 6);
    expect(rejectedReadings(hand.capture)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(rejectedReadings(new Hand().shows(1000, 6).capture)).toEqual([]);
  });

  test('readings after a silence start a new run, however far from the last', () => {
    const once = (silence: number) =>
      rejectedReadings(new Hand().shows(42.3, 3).waits(silence).shows(30).shows(42.3, 3).capture);
    expect(once(1375)).toEqual([3]);
    expect(once(1376)).toEqual([]);
  });

  test('time that goes back begins a new run', () => {
    expect(rejectedReadings(new Hand().shows(42.3, 3).waits(-300).shows(30).shows(42.3, 3).capture)).toEqual(
      [],
    );
  });

  test('a silence counts from the reading before it, though that one is in doubt', () => {
    const hand = new Hand().shows(42.3, 3).shows(99).waits(1300).shows(30).shows(42.3);
    expect(rejectedReadings(hand.capture)).toEqual([3, 4]);
  });

  test('those that a peak rejects stand among the others, in order', () => {
    const foul = Array.from({ length: 25 }, (_, i) => 50 - 0.0024 * (i - 12) ** 2).with(9, 50.04);
    const hand = new Hand().showsAll(foul).showsAll([49.5, 49.4, 12, 49.4, 49.3]);
    const rejected = rejectedReadings(finishCapture(hand.capture));
    expect(rejected).toEqual([9, 27]);
  });

  test.each([
    [12, 0.3],
    [12, 0.1],
    [13, 0.1],
  ])(
    'a rock cut in two by reading %d, %d mm low, is one peak, the better placed of the two',
    (place, low) => {
      const rock = Array.from({ length: 25 }, (_, i) => 50 - 0.0024 * (i - 12) ** 2);
      const cut = rock.with(place, (rock[place] ?? 0) - low);
      const hand = new Hand();
      for (const size of [...rock, ...cut, ...rock]) hand.shows(size, 1, 'mm', 40);
      const peaks = peaksOf(finishCapture(hand.capture));
      expect(peaks).toHaveLength(3);
      for (const { value } of peaks) expect(Math.abs(value - 50)).toBeLessThan(0.004);
    },
  );

  test('a quarter of the readings may be bad, more are doubted from the twenty-fourth on', () => {
    const hand = new Hand();
    for (let round = 0; round < 7; round++) hand.shows(42.3, 2).shows(99);
    hand.shows(42.3, 2);
    expect(hand.verdict).toEqual({ state: 'waiting' });
    hand.shows(42.3);
    expect(hand.verdict).toMatchObject({
      state: 'doubtful',
      reason: { kind: 'too-many-bad-readings', bad: 7, of: 24 },
    });
    hand.shows(42.3, 4);
    expect(hand.verdict).toEqual({ state: 'waiting' });
  });
});

describe('another unit', () => {
  test('before any peak the capture follows it', () => {
    const { ended } = new Hand().shows(42.3, 5).rocks(42.3, 4, 'in');
    expect(ended).toMatchObject({ state: 'steady', agreeing: 4 });
  });

  test('after a peak it stops there and says from which to which', () => {
    const hand = new Hand().rocks(42.3, 2).rocks(42.3, 2, 'in');
    expect(hand.ended).toMatchObject({
      state: 'doubtful',
      reason: { kind: 'unit-changed', from: 'mm', to: 'in' },
      peaks: 2,
    });
  });

  test('a few readings in it are a slip of the line, and the rest is used', () => {
    const hand = new Hand().rocks(42.3, 2).shows(42.3, 4, 'in').rocks(42.3, 3);
    expect(hand.ended).toMatchObject({ state: 'steady', agreeing: 5 });
    expect(rejectedReadings(hand.capture)).toEqual([34, 35, 36, 37]);
  });

  test('is a slip up to four times, and a switch from the fifth on', () => {
    const changed = (times: number) => new Hand().rocks(42.3, 2).shows(42.3, times, 'in').ended;
    expect(changed(4)).toMatchObject({ reason: { kind: 'too-few-peaks' } });
    expect(changed(5)).toMatchObject({ reason: { kind: 'unit-changed' } });
    expect(
      new Hand().rocks(42.3, 2).shows(42.3, 3, 'in').shows(42.3).shows(42.3, 3, 'in').ended,
    ).toMatchObject({
      reason: { kind: 'too-few-peaks' },
    });
  });

  test('is no beginning of a run after a silence', () => {
    const hand = new Hand().shows(42.3, 3).waits(2000).shows(42.3, 1, 'in').rocks(42.3, 4);
    expect(hand.ended).toMatchObject({ state: 'steady', agreeing: 4 });
  });

  test('an inch caliper rocks as well as one in millimetres', () => {
    const { ended } = new Hand().rocks(inches(1.5), 4, 'in');
    expect(ended.state === 'steady' && Math.abs(ended.diameter - inches(1.5))).toBeLessThan(0.008);
  });
});

describe('what is kept', () => {
  test('every reading in order, the last ones alone, and an earlier capture as it was', () => {
    const hand = new Hand().shows(42.3, 2);
    const before = hand.capture;
    hand.shows(42.4).shows(99);
    expect(readingsOf(hand.capture).map(({ value }) => value)).toEqual([42.3, 42.3, 42.4, 99]);
    expect(recentReadings(hand.capture, 2).map(({ value }) => value)).toEqual([42.4, 99]);
    expect(recentReadings(hand.capture, 9)).toHaveLength(4);
    expect(readingsOf(before)).toHaveLength(2);
  });

  test('an earlier capture goes on in its own way', () => {
    const hand = new Hand().shows(42.3, 2);
    const before = hand.capture;
    hand.shows(42.4);
    const reading = readingsOf(hand.capture)[2];
    if (!reading) throw new Error('no third reading');
    const otherwise = addReading(before, { ...reading, value: mm(42.5) });
    expect(readingsOf(hand.capture)[2]?.value).toBe(42.4);
    expect(readingsOf(otherwise)[2]?.value).toBe(42.5);
  });

  test('a finished capture takes no more', () => {
    const ended = finishCapture(new Hand().rocks(42.3, 4).capture);
    const [reading] = readingsOf(ended);
    expect(reading && addReading(ended, reading)).toBe(ended);
  });

  test('each peak says how high it is and which readings it is from', () => {
    const peaks = peaksOf(finishCapture(new Hand().rocks(42.3, 3).capture));
    for (const peak of peaks) {
      expect(Math.abs(peak.value - 42.3)).toBeLessThan(0.006);
      expect(peak.from.length).toBeGreaterThan(3);
    }
    expect(peaks[1]?.from.every((place) => place >= 17 && place < 34)).toBe(true);
  });
});
