// The pace of drawing, on time that passes when the test says so.
import fc from 'fast-check';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Pace } from '../../src/screen/pace.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** What is drawn at a pace of 50 ms, by the milliseconds since the beginning; `goTo` lets time pass until then. */
function paced() {
  const began = performance.now();
  const now = (): number => performance.now() - began;
  const drawn: number[] = [];
  const pace = new Pace(50, () => drawn.push(now()));
  return { drawn, pace, now, goTo: (time: number) => void vi.advanceTimersByTime(time - now()) };
}

test('the first request after a quiet time is drawn at once', () => {
  const { pace, drawn, goTo } = paced();
  pace.request();
  goTo(1000);
  pace.request();
  expect(drawn).toEqual([0, 1000]);
});

test('requests in between are drawn together at the end of the interval', () => {
  const { pace, drawn, goTo } = paced();
  for (const at of [0, 10, 20, 30]) {
    goTo(at);
    pace.request();
  }
  goTo(500);
  expect(drawn).toEqual([0, 50]);
});

test('flushing draws a waiting frame, and nothing when none waits', () => {
  const { pace, drawn, goTo } = paced();
  pace.request();
  goTo(5);
  pace.request();
  pace.flush();
  pace.flush();
  goTo(500);
  expect(drawn).toEqual([0, 5]);
});

test('stopping calls off a waiting frame', () => {
  const { pace, drawn, goTo } = paced();
  pace.request();
  pace.request();
  pace.stop();
  goTo(500);
  expect(drawn).toEqual([0]);
});

test('whenever requests come, drawings keep their distance and follow every request within one interval', () => {
  fc.assert(
    fc.property(fc.array(fc.nat(40), { minLength: 1, maxLength: 40 }), (waits) => {
      const { pace, drawn, goTo, now } = paced();
      const asked: number[] = [];
      for (const wait of waits) {
        goTo(now() + wait);
        asked.push(now());
        pace.request();
      }
      goTo(now() + 1000);
      for (const [at, time] of drawn.slice(1).entries())
        expect(time - (drawn[at] ?? 0)).toBeGreaterThanOrEqual(50);
      for (const time of asked) expect(drawn.some((draw) => draw >= time && draw <= time + 50)).toBe(true);
    }),
  );
});
