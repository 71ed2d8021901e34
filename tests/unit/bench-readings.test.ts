// Readings at the bench: a size that is unlikely, jaws held still, when readings are waited for, and when only time passed.
import { describe, expect, test } from 'vitest';
import type { KeptReading } from '../../src/core/bench/entry.ts';
import { wantsReadings } from '../../src/core/bench/line.ts';
import { oddBore, oddShape, oddSpigot, steadyOf } from '../../src/core/bench/stages/readings.ts';
import { onlyTimePassed } from '../../src/core/bench/state.ts';
import { millis, mm } from '../../src/core/units.ts';
import { played } from '../support/bench.ts';
import { near } from '../support/story.ts';

const { job: begun } = played('');

describe('a size that can hardly be meant', () => {
  const orNull = (value: number | null) => (value === null ? null : mm(value));
  test.each([
    [oddBore, 8, null, false],
    [oddBore, 7.99, null, true],
    [oddBore, 150, null, false],
    [oddBore, 150.01, null, true],
    [oddBore, 55, 50, false],
    [oddBore, 55.01, 50, true],
    [oddBore, 44.99, 50, true],
    [oddBore, 23, 20, false],
    [oddBore, 16.99, 20, true],
    [oddSpigot, 150, null, false],
    [oddSpigot, 150.01, null, true],
    [oddSpigot, 5, null, false],
    [oddSpigot, 45, 50, false],
    [oddSpigot, 44.99, 50, true],
    [oddSpigot, 80, 50, false],
    [oddSpigot, 17, 20, false],
    [oddSpigot, 16.99, 20, true],
  ])('by %o: %d mm where %j is expected: %j', (odd, value, expected, isOdd) => {
    expect(odd(mm(value), orNull(expected)) !== null).toBe(isOdd);
  });
  test.each([
    [42, 43, false],
    [42, 43.01, true],
    [100, 102, false],
    [100, 97.99, true],
  ])('%d mm elsewhere on the part %d mm: %j', (known, value, odd) => {
    expect(oddShape(mm(value), mm(known)) !== null).toBe(odd);
  });
});

describe('jaws held still', () => {
  /** Readings of a caliper, this many milliseconds apart; those after `=` are typed. */
  const heard = (every: number, ...shown: readonly (number | string)[]): readonly KeptReading[] =>
    shown.map((one, place) => {
      const value = mm(Number(String(one).replace('=', '')));
      const raw = typeof one === 'string' ? '' : `DI,${one}`;
      return { value, unit: 'mm', step: mm(0.01), text: `${value}`, at: millis(1000 + place * every), raw };
    });

  test.each<[number, readonly (number | string)[], number | undefined]>([
    [100, [], undefined],
    // Three readings over two tenths of a second; not two, nor a shorter while.
    [100, [43.4, 43.4, 43.4], 43.4],
    [99, [43.4, 43.4, 43.4], undefined],
    [200, [43.4, 43.4], undefined],
    // Two steps apart are near, three are not.
    [100, [43.42, 43.42, 43.4], 43.42],
    [100, [43.38, 43.38, 43.4], 43.38],
    [100, [43.43, 43.4, 43.4], undefined],
    [100, [43.37, 43.4, 43.4], undefined],
    // The middle one, or between the two in the middle.
    [100, [43.42, 43.4, 43.41], 43.41],
    [100, [43.42, 43.4, 43.41, 43.41, 43.42, 43.4], 43.41],
    [100, [43.4, 43.4, 43.42, 43.42], 43.41],
    // A typed value is held at once, and holds nothing after it.
    [100, [43.4, 43.4, '=44'], 44],
    [150, ['=43.4', 43.4, 43.4], undefined],
  ])('%d ms apart, %j are held at %d', (every, shown, value) => {
    const held = steadyOf(heard(every, ...shown))?.value;
    expect(held).toEqual(value === undefined ? undefined : near(value));
  });

  test('leave earlier readings out', () => {
    const readings = heard(100, 45, 43.4, 43.4, 43.4);
    expect(steadyOf(readings)?.readings).toEqual(readings.slice(1));
    expect(steadyOf(heard(100, 43.4, '=44'))?.readings).toHaveLength(1);
  });
});

test('readings are waited for at the stages that measure, and in practice', () => {
  const { mode } = played('').bench;
  const practising = played('').do({ kind: 'practice-opened', measuring: undefined }).bench.mode;
  for (const [at, job, waits] of [
    [mode, begun, true],
    [mode, { ...begun, closed: { how: 'runs', at: 1 } }, false],
    [mode, { ...begun, stage: 'trial' }, false],
    [mode, null, false],
    [{ kind: 'note', text: '' }, begun, false],
    [practising, null, true],
  ] as const)
    expect(wantsReadings({ mode: at, job })).toBe(waits);
});

test('only time passed where the clock went on and the feed stood', () => {
  const table = played('board feed:5');
  const before = table.bench;
  const isTime = (script: string, since = before) => onlyTimePassed(since, table.play(script).bench);
  expect([isTime('wait:100'), isTime('feed:5')]).toEqual([true, true]);
  expect([isTime('feed:6'), isTime('~4', table.bench)]).toEqual([false, false]);
  const none = { ...before, feed: null };
  expect([onlyTimePassed(before, none), onlyTimePassed(none, { ...none })]).toEqual([false, true]);
});
