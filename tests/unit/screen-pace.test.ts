// The pace of drawing, with a clock of the test's own.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Clock, Pace } from '../../src/screen/pace.ts';

/** A clock that stands still until told to go on. */
class HandClock implements Clock {
  time = 0;
  #due: { at: number; then: () => void }[] = [];

  now(): number {
    return this.time;
  }

  after(milliseconds: number, then: () => void): () => void {
    const entry = { at: this.time + milliseconds, then };
    this.#due.push(entry);
    return () => {
      this.#due = this.#due.filter((one) => one !== entry);
    };
  }

  goTo(time: number): void {
    for (;;) {
      const next = this.#due.filter(({ at }) => at <= time).sort((a, b) => a.at - b.at)[0];
      if (!next) break;
      this.time = next.at;
      this.#due = this.#due.filter((one) => one !== next);
      next.then();
    }
    this.time = time;
  }
}

function paced(interval: number): { clock: HandClock; pace: Pace; drawn: number[] } {
  const clock = new HandClock();
  const drawn: number[] = [];
  return { clock, drawn, pace: new Pace(interval, () => drawn.push(clock.time), clock) };
}

test('the first request after a quiet time is drawn at once', () => {
  const { clock, pace, drawn } = paced(50);
  pace.request();
  clock.goTo(1000);
  pace.request();
  expect(drawn).toEqual([0, 1000]);
});

test('requests in between are drawn together at the end of the interval', () => {
  const { clock, pace, drawn } = paced(50);
  for (const at of [0, 10, 20, 30]) {
    clock.goTo(at);
    pace.request();
  }
  clock.goTo(500);
  expect(drawn).toEqual([0, 50]);
});

test('flushing draws a waiting frame, and nothing when none waits', () => {
  const { clock, pace, drawn } = paced(50);
  pace.request();
  clock.goTo(5);
  pace.request();
  pace.flush();
  pace.flush();
  clock.goTo(500);
  expect(drawn).toEqual([0, 5]);
});

test('stopping calls off a waiting frame', () => {
  const { clock, pace, drawn } = paced(50);
  pace.request();
  pace.request();
  pace.stop();
  clock.goTo(500);
  expect(drawn).toEqual([0]);
});

test('whenever requests come, drawings keep their distance and follow every request within one interval', () => {
  fc.assert(
    fc.property(fc.array(fc.nat(40), { minLength: 1, maxLength: 40 }), (waits) => {
      const { clock, pace, drawn } = paced(50);
      const asked: number[] = [];
      for (const wait of waits) {
        clock.goTo(clock.time + wait);
        asked.push(clock.time);
        pace.request();
      }
      clock.goTo(clock.time + 1000);
      for (const [at, time] of drawn.slice(1).entries())
        expect(time - (drawn[at] ?? 0)).toBeGreaterThanOrEqual(50);
      for (const time of asked) expect(drawn.some((draw) => draw >= time && draw <= time + 50)).toBe(true);
    }),
  );
});
