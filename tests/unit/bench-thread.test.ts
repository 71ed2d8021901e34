// Threads at the bench: touch-off, what is typed, keyed or counted, hardening, and when a count is believed no more.
import { describe, expect, test } from 'vitest';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { cuttingOf, cuttingState, loosening } from '../../src/core/bench/stages/fed-thread.ts';
import { millis, mm } from '../../src/core/units.ts';
import { noticeWords } from '../../src/screen/words.ts';
import { Table, threaded } from '../support/bench.ts';

const bore = (table: Table) => table.bench.job?.threads.female;
const keys = (table: Table, ...by: readonly (1 | -1)[]) =>
  table.do(...by.map((each) => ({ kind: 'detent-keyed', by: each }) as const));
const RESTARTED: BenchEvent = { kind: 'board-restarted', heardAt: millis(0) };
/** A board that counts, with the bore touched off and fed this many detents deeper. */
const cutting = (detents: number, setup: Setup = threaded) => {
  const table = new Table(setup).board().to('bore thread').act('keep');
  table.detents(detents);
  return table;
};

describe('what the screen says of the groove', () => {
  const whole = ({ bench: { job, ...bench } }: Table) => {
    if (!job) throw new Error('no job');
    const ready = { ...bench, job };
    return cuttingState(ready, cuttingOf(ready, 'female'));
  };
  const stateOf = (table: Table) => whole(table).kind;

  // Five detents of 0.2 mm are the planned 1 mm.
  test.each([
    [0, 'touched'],
    [1, 'cutting'],
    [4, 'last-detent'],
    [5, 'full-depth'],
    [6, 'too-deep'],
  ])('after %i detents of 5 it is %s', (detents, state) => {
    expect(stateOf(cutting(detents))).toBe(state);
  });

  test('before the touch-off and without a count it says so, and why a count broke off', () => {
    const { feed: _, ...unfed } = threaded;
    expect(whole(new Table(unfed).board().to('bore thread'))).toEqual({ kind: 'no-feed' });
    expect(whole(new Table(unfed).board().to('bore thread').act('keep').type('1mm'))).toMatchObject({
      kind: 'kept',
    });
    expect(whole(new Table(unfed).to('bore thread'))).toEqual({ kind: 'not-touched' });
    expect(whole(new Table(unfed).to('bore thread').act('keep'))).toEqual({ kind: 'uncounted' });
    expect(whole(new Table({ ...unfed, byHand: true }).board().to('bore thread'))).toEqual({
      kind: 'not-touched',
    });
    expect(whole(new Table().to('bore thread'))).toEqual({ kind: 'not-touched' });
    expect(whole(cutting(2).do(RESTARTED))).toEqual({ kind: 'void', why: 'restart' });
    expect(whole(new Table().to('bore thread').type('1mm'))).toEqual({ kind: 'kept', depth: 1 });
  });

  test('a handle turned back proves nothing until its lost motion is taken up, short of the planned depth', () => {
    expect(whole(cutting(3).feed(2))).toEqual({ kind: 'unproven', detents: expect.any(Number) });
    expect(whole(cutting(3).feed(2).feed(3))).toEqual({ kind: 'cutting' });
    expect(whole(cutting(5).feed(4))).toEqual({ kind: 'full-depth' });
  });

  test('a wood that is hardened before the last cut says when', () => {
    expect(whole(cutting(4, { ...threaded, hardens: true })).kind).toBe('harden');
    expect(whole(cutting(3, { ...threaded, hardens: true })).kind).toBe('cutting');
    expect(whole(cutting(4)).kind).toBe('last-detent');
  });

  test('a groove deeper or shallower than planned makes the fit looser or tighter by twice that', () => {
    const loosened = (detents: number, setup: Setup = threaded) => {
      const { job, ...bench } = cutting(detents, setup).bench;
      if (!job) throw new Error('no job');
      return loosening(job, mm(42), cuttingOf({ ...bench, job }, 'female'));
    };
    expect(loosened(6)).toBeCloseTo(0.4, 9);
    expect(loosened(5)).toBeCloseTo(0, 9);
    expect(loosened(3)).toBeCloseTo(-0.8, 9);
    // a crest that is gone has no limit
    expect(loosened(8)).toBeNull();
    expect(loosened(5, { ...threaded, depth: { female: mm(1.5), male: mm(1) } })).toBeNull();
  });

  test('a depth that was kept is kept, unless it is too deep', () => {
    expect(stateOf(cutting(5).act('keep'))).toBe('kept');
    expect(stateOf(cutting(6).act('keep'))).toBe('too-deep');
  });
});

describe('a typed depth', () => {
  test.each([
    ['5', { detents: 5, depth: 1 }],
    [' 12 ', { detents: 12, depth: 2.4 }],
    ['1.0', { detents: null, depth: 1 }],
    ['1mm', { detents: null, depth: 1 }],
    // Two pitches of 16 TPI.
    ['3.175', { detents: null, depth: 3.175 }],
  ])('%j is accepted as typed, and is never proven', (text, cut) => {
    const table = new Table().to('bore thread').type(text);
    expect(bore(table)?.cut).toMatchObject({ proven: false, ...cut, depth: expect.closeTo(cut.depth, 9) });
    expect(table.bench.typed).toBe('');
    expect(table.entries.at(-1)?.readings).toEqual([]);
  });

  test.each(['0', '1000', '0.0', '-1.0', '3.18', 'deep'])('%j is refused', (text) => {
    const table = new Table().to('bore thread').type(text);
    expect(table.refusal).toMatchObject({ kind: 'bad-number', found: text });
    expect(bore(table)?.cut).toBeNull();
  });

  test('without a feed a whole number is millimetres, and nothing is counted', () => {
    const { feed: _, ...unfed } = threaded;
    const table = new Table(unfed).to('spigot thread').type('1');
    expect(table.bench.job?.threads.male.cut).toMatchObject({ detents: null, depth: 1 });
    expect(table.type('5').refusal).toMatchObject({ kind: 'bad-number' });
    expect(table.act('keep', 'keep').refusal).toEqual({ kind: 'missing', what: 'feed' });
    expect(keys(table, 1).refusal).toEqual({ kind: 'missing', what: 'feed' });
  });
});

describe('detents by key', () => {
  test('need a touch-off, go both ways, and count for the part that is cut', () => {
    const table = new Table().to('bore thread');
    expect(keys(table, 1).refusal).toEqual({ kind: 'missing', what: 'touch-off' });
    keys(table.act('keep'), 1, 1, 1, -1);
    expect(bore(table)?.tracker).toMatchObject({ kind: 'tracking', touchedAt: 0, count: 2, deepest: 3 });
    keys(table.to('spigot thread').act('keep'), 1, 1);
    expect(table.bench.job?.threads.male.tracker).toMatchObject({ count: 2 });
    const entries = table.entries.length;
    keys(table.to('trial'), 1);
    expect(table.countOf('feed-counted')).toBe(6);
    expect(table.entries.length).toBeGreaterThan(entries);
  });

  test('count from zero after a new touch-off', () => {
    const table = keys(new Table().to('bore thread').act('keep'), 1, 1).act('again');
    keys(table, 1).act('keep');
    expect(bore(table)?.cut).toMatchObject({ detents: 1 });
  });

  test('are refused where a board counts', () => {
    expect(keys(cutting(1), 1).refusal).toEqual({ kind: 'board-counts' });
  });

  test('stand through a restart of a board that does not count them', () => {
    const table = keys(new Table().to('bore thread').act('keep'), 1, 1).do(RESTARTED);
    expect(bore(table)?.tracker).toMatchObject({ kind: 'tracking', count: 2 });
    expect(table.countOf('depth-voided')).toBe(0);
  });

  test('of a part set aside want a new touch-off, not a typed depth', () => {
    const table = keys(new Table().to('bore thread').act('keep'), 1);
    table.to('spigot thread').act('keep').to('bore thread');
    expect(keys(table, 1).refusal).toEqual({ kind: 'depth-void', why: 'set-aside' });
    table.act('keep');
    expect(bore(table)?.tracker?.kind).toBe('tracking');
  });
});

describe('the depth taken', () => {
  test('is the depth cut: nothing at touch-off, and the deepest after turning back', () => {
    expect(cutting(0).act('keep').refusal).toEqual({ kind: 'missing', what: 'depth' });
    const table = cutting(5).feed(4).act('keep');
    expect(bore(table)?.cut).toMatchObject({ detents: 5, proven: false });
    expect(bore(table)?.cuts).toBe(1);
    table.act('again').feed(5).act('keep');
    expect(bore(table)).toMatchObject({ cuts: 2, cut: { detents: 1 } });
  });

  test('a line that was opened and not heard yet must first report its feed count', () => {
    const opened: BenchEvent = { kind: 'link-opened', port: 'p', heardAt: millis(0) };
    const touched = (table: Table) => table.act('keep').refusal;
    expect(touched(new Table().do(opened).to('bore thread'))).toEqual({ kind: 'missing', what: 'count' });
    // An adapter that prints bare numbers counts nothing.
    const reading = { value: mm(1), unit: 'mm', step: mm(0.01), text: '1.00', at: millis(0) } as const;
    const bare: BenchEvent = {
      kind: 'reading-received',
      reading,
      checked: false,
      raw: '1.00',
      heardAt: millis(0),
    };
    expect(touched(new Table().do(opened, bare).to('bore thread'))).toBeNull();
  });

  test('is hardened before its last detent where the wood asks, once, and nowhere else', () => {
    const hardens = { ...threaded, hardens: true };
    const facts = (table: Table) => table.act('keep').kinds;
    expect(facts(cutting(3, hardens)).at(-1)).toBe('thread-cut');
    expect(facts(cutting(5, hardens)).at(-1)).toBe('thread-cut');
    expect(facts(cutting(4)).at(-1)).toBe('thread-cut');
    const table = cutting(4, hardens).act('keep');
    expect(bore(table)?.hardened).toBe(true);
    expect(facts(table).slice(-2)).toEqual(['hardened', 'thread-cut']);
    const shallow = { ...hardens, depth: { female: mm(0.2), male: mm(0.2) } };
    expect(cutting(0, shallow).act('keep').refusal).toEqual({ kind: 'missing', what: 'depth' });
    const keyed = keys(new Table(hardens).to('bore thread').act('keep'), 1, 1, 1, 1);
    expect(facts(keyed).at(-1)).toBe('hardened');
  });
});

describe('a count that goes on', () => {
  test('is kept once for each change, for the part touched off, until the job is closed', () => {
    const table = cutting(2).feed(2);
    expect(table.countOf('feed-counted')).toBe(2);
    table.to('record').act('keep').feed(3);
    expect(table.bench.job?.closed).not.toBeNull();
    expect(table.countOf('feed-counted')).toBe(2);
    expect(table.bench.feed?.total).toBe(3);
  });

  test('says nothing over a notice of something just kept', () => {
    const table = cutting(0);
    expect(table.bench.notice).toEqual({ kind: 'kept', what: 'touched-off' });
    table.feed(1);
    expect(table.bench.notice).toEqual({ kind: 'kept', what: 'touched-off' });
  });

  test('and breaks off is told at any stage, by the part that it was for', () => {
    const { notice } = cutting(2).to('spigot').do(RESTARTED).bench;
    expect(notice && noticeWords(notice, 'mm')).toBe(
      "The depth of the bore's thread is lost. Touch off again.",
    );
  });

  test('and breaks off is voided for the part that was counted, once, and for no other', () => {
    const table = cutting(2).do(RESTARTED, RESTARTED);
    expect(table.entries.filter(({ fact }) => fact.kind === 'depth-voided').map(({ fact }) => fact)).toEqual([
      { kind: 'depth-voided', part: 'female', why: 'restart' },
    ]);
    expect(new Table().board().do(RESTARTED).countOf('depth-voided')).toBe(0);
    const welcome = new Table();
    expect(welcome.do(RESTARTED).entries).toHaveLength(1);
  });

  test.each([
    ['a restart', 'board-restarted', 'restart'],
    ['an overrun', 'feed-overran', 'overrun'],
  ] as const)('after %s nothing counts until a new touch-off', (_, kind, why) => {
    const table = cutting(2).do({ kind, heardAt: millis(0) });
    expect(bore(table)?.tracker).toMatchObject({ kind: 'void', why });
    table.feed(0).feed(1);
    expect(bore(table)?.tracker?.kind).toBe('void');
    table.act('keep');
    expect(bore(table)?.tracker).toMatchObject({ kind: 'tracking', touchedAt: 1 });
  });

  test('touching off one part sets the other aside, whichever comes first', () => {
    const table = new Table().board().to('spigot thread').act('keep').feed(1).to('bore thread').act('keep');
    expect(table.bench.job?.threads.male.tracker).toMatchObject({ kind: 'void', why: 'set-aside' });
    expect(bore(table)?.tracker?.kind).toBe('tracking');
  });

  test('on another board is never joined to the first one’s', () => {
    const table = cutting(2).board(3, 'bench-02').feed(4);
    expect(bore(table)?.tracker).toMatchObject({ kind: 'void', why: 'other-board' });
    expect([table.countOf('feed-counted'), table.countOf('depth-voided')]).toEqual([2, 1]);
  });

  test('of a board that has not said its name is remembered and not kept', () => {
    const heardAt = millis(0);
    const table = new Table().to('bore thread');
    table.do({ kind: 'feed-counted', total: 3, at: millis(9), raw: 'FE,3', heardAt });
    expect(table.bench.feed).toMatchObject({ total: 3, board: null });
    expect([table.bench.feedSeen, table.kinds.includes('feed-counted')]).toEqual([false, false]);
    // Touched off by it, and named later: whether it is the same cannot be known.
    table.act('keep').board(4);
    expect(bore(table)?.touchOff?.board).toBe('unnamed');
    expect(bore(table)?.tracker).toMatchObject({ kind: 'void', why: 'other-board' });
  });
});

describe('a job taken up again', () => {
  /** Two detents in; then a fact without a count; then opened again on a machine whose clocks went on by this much. */
  const resumed = (
    after: { readonly wall: number; readonly board: number },
    board = 'bench-01',
    total = 2,
    left = cutting(2).act('keep'),
  ) => {
    const marks = left.entries.findLast(({ fact }) => 'mark' in fact);
    if (!marks || !('mark' in marks.fact)) throw new Error('nothing was counted');
    const table = new Table();
    const wall = marks.at + after.wall;
    const heardAt = millis(wall - 1_700_000_000_000);
    const at = millis(marks.fact.mark.at + after.board);
    table.do({ kind: 'ticked', now: heardAt, wall }, { kind: 'job-opened', log: left.entries });
    const facts = { board, firmware: '0.1.0', parts: ['feed'] };
    table.do({ kind: 'board-found', facts, at, heardAt });
    return table.do({ kind: 'feed-counted', total, at, raw: `FE,${total}`, heardAt });
  };
  const HOURS = 3 * 3_600_000;

  test.each([
    ['the same board running on', { wall: HOURS, board: HOURS }, 'bench-01', null],
    ['a board whose clock is half a percent slow', { wall: HOURS, board: HOURS * 0.996 }, 'bench-01', null],
    ['a board that ran far too little', { wall: HOURS, board: HOURS * 0.99 }, 'bench-01', 'restart'],
    ['a few seconds off', { wall: 60_000, board: 64_500 }, 'bench-01', null],
    ['six seconds off in a minute', { wall: 60_000, board: 66_500 }, 'bench-01', 'restart'],
    ['a board whose time went back, and the clock’s with it', { wall: -9, board: -9 }, 'bench-01', 'restart'],
    ['another board', { wall: HOURS, board: HOURS }, 'bench-02', 'other-board'],
  ] as const)('%s', (_, after, board, why) => {
    const tracker = bore(resumed(after, board))?.tracker;
    expect(tracker?.kind === 'void' ? tracker.why : null).toBe(why);
  });

  test('that was only touched off is judged by that', () => {
    const tracker = bore(resumed({ wall: HOURS, board: HOURS }, 'bench-02', 2, cutting(0)))?.tracker;
    expect(tracker).toMatchObject({ kind: 'void', why: 'other-board' });
  });

  test('is judged at the first count alone: setting the clock right later counts as no restart', () => {
    const table = resumed({ wall: HOURS, board: HOURS });
    expect(table.bench.feedSeen).toBe(true);
    table.do({ kind: 'ticked', now: table.bench.now, wall: table.bench.wall + HOURS }).feed(3);
    expect(bore(table)?.tracker).toMatchObject({ kind: 'tracking', count: 3 });
  });

  test('a count that moved meanwhile is kept at once', () => {
    const table = resumed({ wall: HOURS, board: HOURS }, 'bench-01', 4);
    expect(bore(table)?.tracker).toMatchObject({ kind: 'tracking', count: 4 });
  });
});
