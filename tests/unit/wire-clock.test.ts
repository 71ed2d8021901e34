// What SEQ and MS say: every row is one story of two lines, with what must be made of the second.
import { describe, expect, test } from 'vitest';
import { millis } from '../../src/core/units.ts';
import { createBoardClock, type Timed } from '../../src/wire/clock.ts';

type Line = readonly [seq: number, ms: number, host: number, kind?: string];

function last(...lines: readonly Line[]): Timed {
  const clock = createBoardClock();
  let timed: Timed | undefined;
  for (const [seq, ms, host, kind = 'caliper'] of lines) timed = clock.hear({ kind, seq, ms }, millis(host));
  if (!timed) throw new Error('a story needs a line');
  return timed;
}

type Story = readonly [name: string, first: Line, second: Line, expected: Partial<Timed>];
const HOUR = 3_600_000;
const calm = { lost: 0, restarted: false, repeated: false };

describe('running on', () => {
  test('a first line is nothing special, wherever it counts', () => {
    expect(last([40000, 9e6, 0])).toMatchObject(calm);
  });
  test.each<Story>([
    ['the next line', [7, 100, 0], [8, 225, 125], { ...calm, at: millis(225) }],
    ['SEQ wraps', [65535, 100, 0], [0, 225, 125], calm],
    ['two lines in one millisecond', [7, 100, 0], [8, 100, 0], calm],
    ['MS wraps, and time runs on', [7, 4294967295, 0], [8, 99, 100], { ...calm, at: millis(4294967395) }],
    [
      'MS wraps during a long silence, with lines lost',
      [7, 4294967000, 0],
      [108, 60_000, 60_000],
      { lost: 100, restarted: false },
    ],
    ['one line lost', [7, 100, 0], [9, 350, 250], { ...calm, lost: 1 }],
    ['lines lost over the wrap of SEQ', [65534, 100, 0], [2, 600, 500], { ...calm, lost: 3 }],
    [
      'more than half of all SEQ lost, with time enough for it',
      [0, 0, 0],
      [50_001, 2 * HOUR, 2 * HOUR],
      { ...calm, lost: 50_000 },
    ],
    ['a host that stood still for five seconds hears an old line late', [7, 100, 0], [8, 225, 5000], calm],
    ['a HI after a lost line', [7, 100, 0], [9, 350, 250, 'hello'], { ...calm, lost: 1 }],
    ['lines faster than the clock counts', [7, 100, 0], [12, 102, 2], { ...calm, lost: 4 }],
    [
      'half of all SEQ less one, even in a HI',
      [0, 0, 0],
      [32_767, 9000, 9000, 'hello'],
      { ...calm, lost: 32_766 },
    ],
    [
      'as many lines lost as milliseconds ran',
      [0, 0, 0],
      [40_001, 40_000, 40_000],
      { ...calm, lost: 40_000 },
    ],
    ['MS wraps, ten seconds ahead of the host', [7, 4294967295, 0], [8, 10_000, 1], calm],
    ['ten seconds behind the host, no more', [7, 100, 0], [8, 200, 10_100], calm],
    ['half a minute behind the host, but 2 %', [7, 100, 0], [8, 1_470_100, 1_500_000], calm],
    ['two minutes, and five seconds behind', [7, 100, 0], [8, 115_100, 120_000], calm],
    ['a silence so long that MS went all the way round', [7, 100, 0], [8, 200, 2 ** 32 + 100], calm],
    [
      'a board clock 1 % slow over an hour of silence is not a restart',
      [7, HOUR, 0],
      [8, HOUR * 1.99, HOUR],
      calm,
    ],
  ])('%s', (_, first, second, expected) => {
    expect(last(first, second)).toMatchObject(expected);
  });
});

describe('starting again', () => {
  test.each<Story>([
    [
      'a HI with both counts back',
      [700, 90_000, 0],
      [0, 3, 900, 'hello'],
      { restarted: true, lost: 0, at: millis(90_900) },
    ],
    ['the HI was lost: MS went back', [700, 90_000, 0], [1, 120, 900], { restarted: true, lost: 1 }],
    [
      'a HI whose SEQ went back while MS did not',
      [700, 100, 0],
      [2, 70_000, 70_000, 'hello'],
      { restarted: true, lost: 2 },
    ],
    [
      'SEQ went back with too little time to have gone round',
      [700, 100, 0],
      [40, 5000, 4900],
      { restarted: true, lost: 40 },
    ],
    ['SEQ went back by half of all in a HI', [0, 0, 0], [32_768, 9000, 9000, 'hello'], { restarted: true }],
    ['MS wraps too far ahead of the host', [7, 4294967295, 0], [8, 10_001, 1], { restarted: true }],
    ['a millisecond more than ten seconds behind', [7, 100, 0], [8, 200, 10_101], { restarted: true }],
    ['MS back by a little is not a wrap', [7, 5000, 0], [8, 4999, 125], { restarted: true }],
    [
      "after 25 days of running, MS far back isn't a wrap either",
      [7, 3_000_000_000, 0],
      [0, 3, 900],
      { restarted: true },
    ],
    [
      'both counts went on, but the board ran ten seconds too few',
      [20, 12_000, 0],
      [90, 14_000, 20_000],
      { restarted: true, lost: 90 },
    ],
    [
      'the first line of a second start, late enough to be one',
      [0, 3, 0, 'hello'],
      [0, 3, 3, 'hello'],
      { restarted: true, repeated: false },
    ],
  ])('%s', (_, first, second, expected) => {
    expect(last(first, second)).toMatchObject(expected);
  });

  test('time goes on by what the host measured', () => {
    const clock = createBoardClock();
    clock.hear({ kind: 'caliper', seq: 9, ms: 50_000 }, millis(1000));
    expect(clock.hear({ kind: 'caliper', seq: 0, ms: 10 }, millis(1700)).at).toBe(50_700);
    expect(clock.hear({ kind: 'caliper', seq: 1, ms: 135 }, millis(1825)).at).toBe(50_825);
  });
});

describe('sent twice', () => {
  const once: Line = [7, 5000, 0];
  const again: Line = [7, 5000, 20];
  test('the same SEQ and MS at once is a repeat', () => {
    expect(last(once, again)).toMatchObject({ repeated: true, restarted: false, lost: 0, at: millis(5000) });
  });
  test('a repeat changes nothing for the line after it', () => {
    expect(last(once, again, [8, 5125, 125])).toMatchObject({ ...calm, at: millis(5125) });
  });
  test('the same SEQ with a later MS is a count that went back', () => {
    expect(last(once, [7, 5125, 125])).toMatchObject({ restarted: true });
  });
});

test('time never goes back, even if the counts do', () => {
  const clock = createBoardClock();
  let state = 12345;
  let host = 0;
  let before = -1;
  for (let i = 0; i < 4000; i++) {
    state = (Math.imul(state, 1103515245) + 12345) >>> 0;
    host += state % 300;
    const timed = clock.hear(
      { kind: i % 7 ? 'feed' : 'hello', seq: (state >>> 8) % 65536, ms: state },
      millis(host),
    );
    expect(timed.at).toBeGreaterThanOrEqual(before);
    before = timed.at;
  }
});
