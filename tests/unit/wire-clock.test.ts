// What SEQ and MS say: every row is one story of two or more lines, told with what must be made of the last one.
import { describe, expect, test } from 'vitest';
import { millis } from '../../src/core/units.ts';
import { createBoardClock, type Timed } from '../../src/wire/clock.ts';

interface Line {
  readonly seq: number;
  readonly ms: number;
  readonly host: number;
  readonly kind?: string;
}

function last(lines: readonly Line[]): Timed {
  const clock = createBoardClock();
  let timed: Timed | undefined;
  for (const { seq, ms, host, kind = 'caliper' } of lines)
    timed = clock.hear({ kind, seq, ms }, millis(host));
  if (!timed) throw new Error('a story needs a line');
  return timed;
}

const story = (name: string, lines: readonly Line[], expected: Partial<Timed>) => ({ name, lines, expected });
const HOUR = 3_600_000;
const calm = { lost: 0, restarted: false, repeated: false };

describe('running on', () => {
  test.each([
    story('a first line is nothing special, wherever it counts', [{ seq: 40000, ms: 9e6, host: 0 }], calm),
    story(
      'the next line',
      [
        { seq: 7, ms: 100, host: 0 },
        { seq: 8, ms: 225, host: 125 },
      ],
      { ...calm, at: millis(225) },
    ),
    story(
      'SEQ wraps',
      [
        { seq: 65535, ms: 100, host: 0 },
        { seq: 0, ms: 225, host: 125 },
      ],
      calm,
    ),
    story(
      'two lines in one millisecond',
      [
        { seq: 7, ms: 100, host: 0 },
        { seq: 8, ms: 100, host: 0 },
      ],
      calm,
    ),
    story(
      'MS wraps, and time runs on',
      [
        { seq: 7, ms: 4294967295, host: 0 },
        { seq: 8, ms: 99, host: 100 },
      ],
      { ...calm, at: millis(4294967395) },
    ),
    story(
      'MS wraps during a long silence, with lines lost',
      [
        { seq: 7, ms: 4294967000, host: 0 },
        { seq: 108, ms: 60_000, host: 60_000 },
      ],
      { lost: 100, restarted: false },
    ),
    story(
      'one line lost',
      [
        { seq: 7, ms: 100, host: 0 },
        { seq: 9, ms: 350, host: 250 },
      ],
      { ...calm, lost: 1 },
    ),
    story(
      'lines lost over the wrap of SEQ',
      [
        { seq: 65534, ms: 100, host: 0 },
        { seq: 2, ms: 600, host: 500 },
      ],
      { ...calm, lost: 3 },
    ),
    story(
      'more than half of all SEQ lost, with time enough for it',
      [
        { seq: 0, ms: 0, host: 0 },
        { seq: 50_001, ms: 2 * HOUR, host: 2 * HOUR },
      ],
      { ...calm, lost: 50_000 },
    ),
    story(
      'a host that stood still for five seconds hears an old line late',
      [
        { seq: 7, ms: 100, host: 0 },
        { seq: 8, ms: 225, host: 5000 },
      ],
      calm,
    ),
    story(
      'a board clock 1 % slow over an hour of silence is not a restart',
      [
        { seq: 7, ms: HOUR, host: 0 },
        { seq: 8, ms: HOUR * 1.99, host: HOUR },
      ],
      calm,
    ),
  ])('$name', ({ lines, expected }) => {
    expect(last(lines)).toMatchObject(expected);
  });
});

describe('starting again', () => {
  test.each([
    story(
      'a HI with both counts back',
      [
        { seq: 700, ms: 90_000, host: 0 },
        { seq: 0, ms: 3, host: 900, kind: 'hello' },
      ],
      { restarted: true, lost: 0, at: millis(90_900) },
    ),
    story(
      'the HI was lost: MS went back',
      [
        { seq: 700, ms: 90_000, host: 0 },
        { seq: 1, ms: 120, host: 900 },
      ],
      { restarted: true, lost: 1 },
    ),
    story(
      'a HI whose SEQ went back while MS did not',
      [
        { seq: 700, ms: 100, host: 0 },
        { seq: 2, ms: 70_000, host: 70_000, kind: 'hello' },
      ],
      { restarted: true, lost: 2 },
    ),
    story(
      'SEQ went back with too little time to have gone round',
      [
        { seq: 700, ms: 100, host: 0 },
        { seq: 40, ms: 5000, host: 4900 },
      ],
      { restarted: true, lost: 40 },
    ),
    story(
      'MS back by a little is not a wrap',
      [
        { seq: 7, ms: 5000, host: 0 },
        { seq: 8, ms: 4999, host: 125 },
      ],
      { restarted: true },
    ),
    story(
      "after 25 days of running, MS far back isn't a wrap either",
      [
        { seq: 7, ms: 3_000_000_000, host: 0 },
        { seq: 0, ms: 3, host: 900 },
      ],
      { restarted: true },
    ),
    story(
      'both counts went on, but the board ran ten seconds too few',
      [
        { seq: 20, ms: 12_000, host: 0 },
        { seq: 90, ms: 14_000, host: 20_000 },
      ],
      { restarted: true, lost: 90 },
    ),
    story(
      'the first line of a second start, late enough to be one',
      [
        { seq: 0, ms: 3, host: 0, kind: 'hello' },
        { seq: 0, ms: 3, host: 3, kind: 'hello' },
      ],
      { restarted: true, repeated: false },
    ),
  ])('$name', ({ lines, expected }) => {
    expect(last(lines)).toMatchObject(expected);
  });

  test('time goes on by what the host measured', () => {
    const clock = createBoardClock();
    clock.hear({ kind: 'caliper', seq: 9, ms: 50_000 }, millis(1000));
    expect(clock.hear({ kind: 'caliper', seq: 0, ms: 10 }, millis(1700)).at).toBe(50_700);
    expect(clock.hear({ kind: 'caliper', seq: 1, ms: 135 }, millis(1825)).at).toBe(50_825);
  });
});

describe('sent twice', () => {
  const twice = [
    { seq: 7, ms: 5000, host: 0 },
    { seq: 7, ms: 5000, host: 20 },
  ];
  test('the same SEQ and MS at once is a repeat', () => {
    expect(last(twice)).toMatchObject({ repeated: true, restarted: false, lost: 0, at: millis(5000) });
  });
  test('a repeat changes nothing for the line after it', () => {
    expect(last([...twice, { seq: 8, ms: 5125, host: 125 }])).toMatchObject({ ...calm, at: millis(5125) });
  });
  test('the same SEQ with a later MS is a count that went back', () => {
    expect(
      last([
        { seq: 7, ms: 5000, host: 0 },
        { seq: 7, ms: 5125, host: 125 },
      ]),
    ).toMatchObject({ restarted: true });
  });
});

test('time never goes back, whatever the counts do', () => {
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
