// Threads at the bench: touch-off, what is typed, keyed or counted, hardening, and when a count is no longer trusted.
import { describe, expect, test } from 'vitest';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { cuttingOf, cuttingState, loosening } from '../../src/core/bench/stages/fed-thread.ts';
import { millis, mm } from '../../src/core/units.ts';
import { noticeWords } from '../../src/screen/words.ts';
import { played, Table, threaded } from '../support/bench.ts';
import { keeps, near, no, type Step, story, tells } from '../support/story.ts';

const { feed: _, ...unfed } = threaded;
const byHand = { ...unfed, byHand: true } as const;
const hardens = { ...threaded, hardens: true };
const bore = (table: Table) => table.job.threads.female;
/** A board that counts, with the bore touched off and fed this many detents deeper. */
const fed = (detents: number) => `board @bore-thread keep detents:${detents}`;
const voided = (why: string) => ({ kind: 'void', why });

describe('what the screen says of the groove', () => {
  // Five detents of 0.2 mm are the planned 1 mm.
  test.each<[string, object, Setup?]>([
    [fed(0), { kind: 'touched' }],
    [fed(1), { kind: 'cutting' }],
    [fed(4), { kind: 'last-detent' }],
    [fed(5), { kind: 'full-depth' }],
    [fed(6), { kind: 'too-deep' }],
    // What was kept is kept, unless it is too deep.
    [`${fed(5)} keep`, { kind: 'kept', depth: 1 }],
    [`${fed(6)} keep`, { kind: 'too-deep' }],
    ['@bore-thread', { kind: 'not-touched' }],
    ['@bore-thread =1mm', { kind: 'kept', depth: 1 }],
    ['board @bore-thread', { kind: 'no-feed' }, unfed],
    ['board @bore-thread keep =1mm', { kind: 'kept' }, unfed],
    ['@bore-thread', { kind: 'not-touched' }, unfed],
    ['@bore-thread keep', { kind: 'uncounted' }, unfed],
    ['board @bore-thread', { kind: 'not-touched' }, byHand],
    [`${fed(2)} restart`, voided('restart')],
    // A handle turned back proves nothing until its lost motion is taken up, short of the planned depth.
    [`${fed(3)} feed:2`, { kind: 'unproven', detents: expect.any(Number) }],
    [`${fed(3)} feed:2 feed:3`, { kind: 'cutting' }],
    [`${fed(5)} feed:4`, { kind: 'full-depth' }],
    // A wood that is hardened before the last cut says when.
    [fed(3), { kind: 'cutting' }, hardens],
    [fed(4), { kind: 'harden' }, hardens],
  ])('%s: %j', (script, state, setup) => {
    const { ready } = played(script, setup);
    expect(cuttingState(ready, cuttingOf(ready, 'female'))).toMatchObject(state);
  });

  test.each<[number, number | null, Setup?]>([
    [6, 0.4],
    [5, 0],
    [3, -0.8],
    // A crest that is gone has no limit.
    [8, null],
    [5, null, { ...threaded, depth: { female: mm(1.5), male: mm(1) } }],
  ])('%d detents instead of five loosen the fit by twice that: %j', (detents, by, setup) => {
    const { ready } = played(fed(detents), setup);
    expect(loosening(ready.job, mm(42), cuttingOf(ready, 'female'))).toEqual(by === null ? null : near(by));
  });

  test('is where to go on, and that a deeper one may be kept in its place', () =>
    story(
      played(fed(5)),
      ['', { next: expect.stringMatching(/Enter to keep the depth/) }],
      ['keep', { next: expect.stringMatching(/^Press n for the bore size\./) }],
      ['feed:6', { next: expect.stringMatching(/instead of the last one/) }],
    ));
});

describe('a depth that is kept', () => {
  const cut = (detents: number | null, depth: number, proven = false) =>
    keeps('thread-cut', { part: 'female', detents, depth: near(depth), proven });
  const accepted = 'a radial depth above zero and under two pitches';

  test.each<Step>([
    [`${fed(5)} keep`, cut(5, 1, true)],
    // Nothing at touch-off; after turning back the deepest.
    [`${fed(0)} keep`, no('missing', { what: 'depth' })],
    [`${fed(5)} feed:4 keep`, cut(5, 1)],
    [`${fed(5)} feed:4 keep again feed:5 keep`, cut(1, 0.2, true)],
    ['@bore-thread =5', { ...cut(5, 1), typed: '' }],
    ['@bore-thread =_12_', cut(12, 2.4)],
    ['@bore-thread =1.0', cut(null, 1)],
    ['@bore-thread =1mm', cut(null, 1)],
    ['@bore-thread =0,9', cut(null, 0.9)],
    // Two pitches of 16 TPI.
    ['@bore-thread =3.175', cut(null, 3.175)],
    ['@bore-thread =3.18', no('bad-number', { found: '3.18', accepted })],
    ['@bore-thread =90', no('bad-number', { found: '90', accepted })],
    ['@bore-thread =0', no('bad-number', { found: '0' })],
    ['@bore-thread =1000', no('bad-number', { found: '1000' })],
    ['@bore-thread =0.0', no('bad-number', { found: '0.0' })],
    ['@bore-thread =-1.0', no('bad-number', { found: '-1.0' })],
    [
      '@bore-thread =deep',
      { ...no('bad-number', { found: 'deep' }), kinds: expect.not.arrayContaining(['thread-cut']) },
    ],
  ])('%s', tells);

  test('counts the cuts, and has no readings behind it', () => {
    const table = played(`${fed(5)} keep again detents:1 keep`);
    expect(bore(table).cuts).toBe(2);
    expect(table.entries.at(-1)?.readings).toEqual([]);
  });

  test('without a feed is millimetres, and nothing is counted', () =>
    story(
      played('@spigot-thread =1', unfed),
      ['', keeps('thread-cut', { part: 'male', detents: null, depth: 1 })],
      ['=5', no('bad-number')],
      ['keep keep', no('missing', { what: 'feed' })],
      ['+', no('missing', { what: 'feed' })],
    ));

  test.each<[string, string, Setup?]>([
    [`${fed(3)} keep`, 'thread-cut'],
    [`${fed(4)} keep`, 'hardened'],
    [`${fed(4)} keep keep`, 'thread-cut'],
    [`${fed(5)} keep`, 'thread-cut'],
    ['@bore-thread keep + + + + keep', 'hardened'],
    // One detent has none before its last.
    [`${fed(0)} keep`, 'touched-off', { ...hardens, depth: { female: mm(0.2), male: mm(0.2) } }],
    [`${fed(4)} keep`, 'thread-cut', threaded],
  ])(
    'hardened before its last detent where the wood asks, once: %s is %s',
    (script, kind, setup = hardens) => {
      const table = played(script, setup);
      expect(table.lastFact?.kind).toBe(kind);
      expect(bore(table).hardened).toBe(table.kinds.includes('hardened'));
    },
  );
});

describe('detents by key', () => {
  const tracks = (script: string, tracker: object) =>
    expect(bore(played(script)).tracker).toMatchObject(tracker);

  test.each<Step>([
    ['@bore-thread +', no('missing', { what: 'touch-off' })],
    [`${fed(1)} +`, no('board-counts')],
    ['@bore-thread keep + + again + keep', keeps('thread-cut', { detents: 1 })],
    // A part set aside wants a new touch-off, not a typed depth.
    ['@bore-thread keep + @spigot-thread keep @bore-thread +', no('depth-void', { why: 'set-aside' })],
    ['@bore-thread keep + @spigot-thread keep @bore-thread keep', keeps('touched-off', { part: 'female' })],
  ])('%s', tells);

  test('go both ways, count for the part that is cut, and stand through a restart of a board that counts none', () => {
    const counted = { kind: 'tracking', touchedAt: 0, count: 2, deepest: 3 };
    tracks('@bore-thread keep + + + -', counted);
    tracks('@bore-thread keep + + + - restart', counted);
    const table = played('@bore-thread keep + + @spigot-thread keep + +');
    expect(table.job.threads.male.tracker).toMatchObject({ count: 2 });
    expect(table.play('@trial +').countOf('feed-counted')).toBe(4);
  });
});

describe('a board’s count', () => {
  const tracker = (script: string) => bore(played(script)).tracker;

  test.each<[string, object]>([
    [fed(2), { kind: 'tracking', touchedAt: 0, count: 2 }],
    [`${fed(2)} restart`, voided('restart')],
    [`${fed(2)} restart feed:0 feed:1`, voided('restart')],
    [`${fed(2)} restart feed:0 feed:1 keep`, { kind: 'tracking', touchedAt: 1 }],
    [`${fed(2)} overrun feed:3`, voided('overrun')],
    // On another board it is never joined to the first one's.
    [`${fed(2)} board:bench-02 feed:4`, voided('other-board')],
    [`${fed(2)} @spigot-thread keep`, voided('set-aside')],
    ['board @spigot-thread keep feed:1 @bore-thread keep', { kind: 'tracking' }],
    // A jump that no hand makes: 20 at once and 100 a second, of which the next line brings 50 ms; backwards, as no groove is so deep.
    [`${fed(0)} feed:-25`, { kind: 'tracking' }],
    [`${fed(0)} feed:-26`, voided('impossible')],
    [`${fed(0)} wait:950 feed:-120`, { kind: 'tracking' }],
    [`${fed(0)} wait:950 feed:-121`, voided('impossible')],
    // A groove deeper than any of this pitch; a turn of the handle back, out of the work, is none.
    [fed(20), voided('impossible')],
    [`${fed(0)} ${Array.from({ length: 20 }, (_, at) => `feed:${-1 - at}`).join(' ')}`, { kind: 'tracking' }],
  ])('%s: %j', (script, state) => expect(tracker(script)).toMatchObject(state));

  test.each<Step>([
    [`${fed(1)} feed:30000 feed:2`, keeps('depth-voided', { part: 'female', why: 'impossible' })],
    [`${fed(1)} feed:30000 feed:2 keep`, { kinds: expect.not.arrayContaining(['thread-cut']) }],
    // Nothing is said over a notice of something just kept.
    [fed(0), { notice: { kind: 'kept', what: 'touched-off' } }],
    [fed(1), { notice: { kind: 'kept', what: 'touched-off' } }],
  ])('%s', tells);

  test('is kept once for each change until the job is closed, and voided once', () => {
    const table = played(`${fed(2)} feed:2`);
    expect(table.countOf('feed-counted')).toBe(2);
    expect(table.play('@record keep feed:3').countOf('feed-counted')).toBe(2);
    expect([table.job.closed === null, table.bench.feed?.total]).toEqual([false, 3]);
    expect(played(`${fed(2)} restart restart`).countOf('depth-voided')).toBe(1);
    expect(played('board restart').kinds).toEqual(['job-begun']);
    expect(played(`${fed(2)} board:bench-02 feed:4`).countOf('feed-counted')).toBe(2);
  });

  test('that breaks off is reported at any stage, with the part that it was for', () => {
    const { notice } = played(`${fed(2)} @spigot restart`).bench;
    expect(notice && noticeWords(notice, 'mm')).toBe(
      "The depth of the bore's thread is lost. Touch off again.",
    );
  });

  test('is waited for where a board that counts has not reported it since it began, nor a line not heard yet', () => {
    const uncounted = no('missing', { what: 'count' });
    const at = millis(0);
    const facts = { board: 'bench-01', firmware: '0.1.0', parts: ['feed'] };
    const table = played('open @bore-thread');
    story(table, ['keep', uncounted]);
    story(table.do({ kind: 'board-found', facts, at, heardAt: at }), ['keep', uncounted]);
    story(table, ['feed:7 keep', keeps('touched-off', { mark: { total: 7 } })]);
    story(table, ['restart keep', uncounted], ['feed:0 keep', keeps('touched-off', { mark: { total: 0 } })]);
    // An adapter that prints bare numbers counts nothing.
    const reading = { value: mm(1), unit: 'mm', step: mm(0.01), text: '1.00', at } as const;
    const bare: BenchEvent = { kind: 'reading-received', reading, checked: false, raw: '1.00', heardAt: at };
    story(played('open').do(bare), ['@bore-thread keep', keeps('touched-off')]);
  });

  test('of a board that has not said its name is remembered and not kept', () => {
    const heard = { kind: 'feed-counted', total: 3, at: millis(9), raw: 'FE,3', heardAt: millis(0) } as const;
    const table = played('@bore-thread').do(heard);
    expect(table.bench).toMatchObject({ feed: { total: 3, board: null }, feedSeen: false });
    expect(table.kinds).not.toContain('feed-counted');
    // Touched off by it, and named later: whether it is the same cannot be known.
    story(table, ['keep board feed:4', keeps('depth-voided', { why: 'other-board' })]);
    expect(bore(table).touchOff?.board).toBe('unnamed');
  });
});

describe('a job taken up again', () => {
  const HOURS = 3 * 3_600_000;
  /** Two detents in, then a fact without a count; opened again on a machine whose clocks went on by this much. */
  const resumed = (wall: number, ran: number, board = 'bench-01', total = 2, left = `${fed(2)} keep`) => {
    const { entries } = played(left);
    const marks = entries.findLast(({ fact }) => 'mark' in fact);
    if (!marks || !('mark' in marks.fact)) throw new Error('nothing was counted');
    const now = millis(marks.at + wall - 1_700_000_000_000);
    const at = millis(marks.fact.mark.at + ran);
    const facts = { board, firmware: '0.1.0', parts: ['feed'] };
    return new Table().do(
      { kind: 'ticked', now, wall: marks.at + wall },
      { kind: 'job-opened', log: entries },
      { kind: 'board-found', facts, at, heardAt: now },
      { kind: 'feed-counted', total, at, raw: `FE,${total}`, heardAt: now },
    );
  };

  test.each<[string, Parameters<typeof resumed>, object]>([
    ['the same board running on', [HOURS, HOURS], { kind: 'tracking', count: 2 }],
    ['a board whose clock is half a percent slow', [HOURS, HOURS * 0.996], { kind: 'tracking' }],
    ['a board that ran far too little', [HOURS, HOURS * 0.99], voided('restart')],
    ['a few seconds off', [60_000, 64_500], { kind: 'tracking' }],
    ['six seconds off in a minute', [60_000, 66_500], voided('restart')],
    ['a board whose time went back, and the clock’s with it', [-9, -9], voided('restart')],
    ['another board', [HOURS, HOURS, 'bench-02'], voided('other-board')],
    ['another board after a touch-off alone', [HOURS, HOURS, 'bench-02', 2, fed(0)], voided('other-board')],
    ['a count that moved meanwhile', [HOURS, HOURS, 'bench-01', 4], { kind: 'tracking', count: 4 }],
  ])('%s', (_, how, tracker) => expect(bore(resumed(...how)).tracker).toMatchObject(tracker));

  test("is judged at the first count alone: setting the clock right later isn't a restart", () => {
    const table = resumed(HOURS, HOURS);
    expect(table.bench.feedSeen).toBe(true);
    table.do({ kind: 'ticked', now: table.bench.now, wall: table.bench.wall + HOURS }).feed(3);
    expect(bore(table).tracker).toMatchObject({ kind: 'tracking', count: 3 });
  });
});

describe('a board with a feed, a job with none', () => {
  const counting = () => played('board @bore-thread feed:3', unfed);

  test('is said at the thread, with the key that sets it up', () =>
    story(counting(), ['', { word: 'FEED NOT SET UP', next: expect.stringMatching(/^Press k/) }]));

  test('is set up with two questions, kept in the kit, and counted by from then on', () => {
    const table = counting();
    table.kitFeeds = [];
    table.play('calibrate =3 =0.2 ~leadscrew enter');
    expect(table.feeds).toMatchObject([{ name: 'leadscrew', perDetent: 0.2 }]);
    expect(Number(table.feeds[0]?.standard)).toBeGreaterThan(0);
    expect(table.job.setup.feed).toMatchObject({ name: 'leadscrew', perDetent: 0.2 });
    const { ready } = table.play('keep feed:4 feed:5');
    expect(cuttingOf(ready, 'female')).toMatchObject({ wanted: 5, done: 2 });
  });

  test.each([
    [1.09, 1],
    [0.05, 0.2],
  ])(
    'with a feed a groove planned %d mm deep is planned in its whole detents, unless it is cut',
    (depth, male) => {
      const setup = { ...unfed, depth: { female: mm(depth), male: mm(depth) } };
      const table = played('board @bore-thread feed:3 =0.9mm calibrate', setup);
      expect(table.job.setup.depth).toEqual({ female: depth, male: near(male) });
    },
  );

  test.each<[string, Setup, string, string | undefined]>([
    ['uses the one that the kit has already with one key', unfed, '', 'cross slide'],
    ['takes none from the kit once it is closed', unfed, '@record keep', undefined],
    ['takes none from the kit where both threads are chased by hand', byHand, '', undefined],
  ])('%s', (_, setup, script, feed) => {
    const table = played(`board @bore-thread feed:3 ${script} calibrate`, setup);
    expect(table.job.setup.feed?.name).toBe(feed);
    expect(table.bench.mode.kind).toBe(feed ? 'stage' : 'calibrate');
  });
});
