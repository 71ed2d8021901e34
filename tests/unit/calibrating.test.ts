// Calibrating the feed at the bench: each way question by question, every key at every step, and every refusal.
import { describe, expect, test } from 'vitest';
import { calibrationOf, provenFrom } from '../../src/core/bench/calibration/model.ts';
import {
  type Answers,
  answersShown,
  questionIn,
  rowOf,
  type Way,
} from '../../src/core/bench/calibration/questions.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import type { Job } from '../../src/core/bench/job.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { step } from '../../src/core/bench/step.ts';
import { pairOf } from '../../src/core/bench/threads.ts';
import { calibrateByPair, calibrateByTravel, type RunningPair } from '../../src/core/thread/calibrate.ts';
import { limitsOf } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { kit, Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

const asked = (table = new Table()): Table => table.do({ kind: 'calibrate-asked' });
/** By a travel over a gauge whose doubt was left as offered: the detents are asked for next. */
const gauge = (table = new Table()): Table => asked(table).act('keep', 'keep');
/** By the pair on the bench. */
const byPair = (table: Table): Table => asked(table).type('2');
const now = ({ bench }: Table) => {
  if (bench.mode.kind !== 'calibrate') throw new Error(`the bench shows ${bench.mode.kind}`);
  return bench.mode.calibrating;
};
const asking = (table: Table) => ({ ...table.bench, answers: now(table).answers });
const question = (table: Table) => questionIn(asking(table));
/** What was answered so far, the newest last. */
const answers = (table: Table) => now(table).answers.given.map(({ to, value }) => [to, value]);
const trouble = ({ refusal }: Table) => (refusal?.kind === 'calibration' ? refusal.trouble : refusal);
const found = (table: Table) => calibration(calibrationOf(asking(table)));
const calibration = (made: ReturnType<typeof calibrationOf>) => {
  if (made?.kind !== 'calibration') throw new Error(`nothing was found: ${JSON.stringify(made)}`);
  return made;
};
const escaped: BenchEvent = { kind: 'escaped' };
const erased: BenchEvent = { kind: 'erased' };
const entered: BenchEvent = { kind: 'entered' };
const { feed: _, ...unfed } = threaded;
const measured = (setup = threaded): Table => new Table(setup).measured('42.30', 43.4);
/** A pair on the bench, its grooves typed as detents or as depths, with its trial. */
const tried = (verdict = '3', depth = '5', setup = threaded): Table => {
  const table = measured(setup);
  for (const stage of ['bore thread', 'spigot thread']) table.to(stage).type(depth);
  return table.to('trial').type(verdict).act('keep');
};

describe('the choice of the way', () => {
  test.each([
    'note-asked',
    'new-job-asked',
    'jobs-asked',
    'sheet-asked',
    'calibrate-asked',
    'virtual-asked',
  ] as const)('and every question answer %s with a sentence, and stay', (kind) => {
    for (const table of [asked(), gauge(), byPair(tried())]) {
      const { mode } = table.bench;
      expect(trouble(table.do({ kind }))).toEqual({ kind: 'other-key' });
      expect(table.bench.mode).toEqual(mode);
    }
  });

  test('turns with again and with the arrows, and a number chooses', () => {
    const ways = [0, 1, 2, 3].map((times) => {
      const table = asked(tried());
      for (let at = 0; at < times; at++) table.act('again');
      return now(table).answers;
    });
    expect(ways.map(({ way }) => way)).toEqual(['travel', 'pair', 'known', 'travel']);
    expect(ways.map(({ given }) => given)).toEqual([[], [], [], []]);
    expect(now(asked(tried()).do({ kind: 'moved', by: 1 })).answers.way).toBe('pair');
    expect(now(asked(tried()).type(' 2 '))).toMatchObject({ step: 'asking', answers: { way: 'pair' } });
    expect(now(asked(tried()).type(' 1 '))).toMatchObject({ step: 'asking', answers: { way: 'travel' } });
    const wrong = asked().type('4');
    expect(now(wrong).step).toBe('way');
    expect(wrong.refusal).toEqual({ kind: 'bad-number', found: '4', accepted: '1, 2 or 3' });
  });

  test('going on the same way keeps the answers, the other way starts over', () => {
    const table = gauge(tried()).type('20').do(escaped).act('keep');
    expect(answers(table)).toContainEqual(['detents', 20]);
    table.do(escaped).type('2').do(escaped).type('1');
    expect(answers(table)).toEqual([]);
  });

  test('back, undo and escape leave for where the turner came from, with nothing said', () => {
    for (const leave of [
      escaped,
      { kind: 'action', action: 'back' } as const,
      { kind: 'undo-asked' } as const,
    ])
      expect(asked().type('9').do(leave).bench).toMatchObject({
        mode: { kind: 'stage' },
        typed: '',
        notice: null,
      });
  });

  test('back at the choice of the way, back leaves it all', () => {
    const table = gauge().type('20').do(escaped);
    expect(table.act('back').bench.mode.kind).toBe('stage');
  });

  test('without a job a pair is refused, and leaving leads to the welcome', () => {
    const welcome = { ...new Table().bench, job: null, log: [], mode: { kind: 'welcome' } } as const;
    const leaves = (...events: readonly BenchEvent[]) =>
      [{ kind: 'calibration-opened', kit } as const, ...events].reduce(
        (at, event) => step(at, event).bench,
        welcome as Bench,
      );
    expect(leaves({ kind: 'typed', text: '2' }, entered).notice).toMatchObject({
      why: { trouble: { kind: 'no-pair', lack: 'job' } },
    });
    expect(leaves().mode).toMatchObject({ calibrating: { name: 'cross slide', answers: { way: 'travel' } } });
    expect(leaves(escaped).mode).toEqual({ kind: 'welcome' });
  });

  test('the feed is named as the job has it, or the kit, or plainly', () => {
    const name = (table: Table, feeds = kit.feeds) =>
      now(table.do({ kind: 'calibration-opened', kit: { ...kit, feeds } })).name;
    const other = [{ name: 'other slide', perDetent: mm(0.1), lostDetents: 0, perDetentStandard: mm(0) }];
    expect(name(new Table(), other)).toBe('cross slide');
    expect(name(new Table(unfed), other)).toBe('other slide');
    expect(name(new Table(unfed), [])).toBe('feed');
  });
});

describe('against a gauge', () => {
  test('typed alone: detents, travels, a name; the figures are those of the sums', () => {
    const table = gauge(new Table().to('bore thread'));
    expect(question(table)).toBe('detents');
    table.type('20').type('4.02').type('4.03mm').type('4.02');
    const by = calibration(calibrateByTravel(20, [mm(4.02), mm(4.03), mm(4.02)], mm(0.01 / Math.sqrt(3))));
    expect(found(table)).toEqual(by);
    table.act('next');
    expect(now(table)).toMatchObject({ step: 'naming', name: 'cross slide' });
    table.typing('n').typing('ew').do(entered);
    const { perDetent, doubt } = by;
    expect(table.feeds).toEqual([
      { name: 'new', perDetent, standard: doubt.standard, freedom: doubt.degreesOfFreedom },
    ]);
    expect(table.bench.mode.kind).toBe('stage');
    expect(table.bench.notice).toEqual({ kind: 'feed-kept', name: 'new' });
  });

  test('with a board the detents are its count, and every travel must be over as many', () => {
    const table = gauge(new Table().board(7)).act('keep').type('2.00');
    expect(trouble(table)).toEqual({ kind: 'not-fed', detents: 0 });
    table.feed(8).feed(17).type('2.01');
    expect(question(table)).toBe('mark');
    expect(found(table).perDetent).toBeCloseTo(0.201, 9);
    table.type('2.02');
    expect(trouble(table)).toEqual({ kind: 'nothing-asked', question: 'mark' });
    table.feed(5).act('keep').feed(16).type('2.02');
    expect(trouble(table)).toEqual({ kind: 'other-count', detents: 11, first: 10 });
    table.feed(15).type('2.03');
    expect(found(table).perDetent).toBeCloseTo(0.202, 9);
  });

  test('a broken count is not used; earlier travels and other answers stay', () => {
    const restart = (table: Table) => table.do({ kind: 'board-restarted', heardAt: table.bench.now });
    const table = gauge(new Table().board(0)).act('keep').feed(10).type('2.00').act('keep').feed(14);
    expect(trouble(restart(table))).toEqual({ kind: 'count-broken', why: 'restart' });
    expect(question(table)).toBe('mark');
    expect(found(table).perDetent).toBeCloseTo(0.2, 9);
    table.feed(0).act('keep').feed(10).type('2.01');
    expect(found(table).perDetent).toBeCloseTo(0.2005, 9);
    const between = gauge(new Table().board(0)).type('20').type('4.02');
    const before = answers(between);
    expect([answers(restart(between)), between.refusal]).toEqual([before, null]);
    expect(restart(byPair(tried())).refusal).toBeNull();
  });

  test('the feed of a job that was touched off goes on being counted meanwhile', () => {
    const table = asked(new Table().board(0).to('bore thread').act('keep').feed(1)).feed(2);
    expect(table.bench.mode.kind).toBe('calibrate');
    expect(table.bench.job?.threads.female.tracker).toMatchObject({ count: 2 });
  });

  test('nothing is guessed: each refusal says why, and earlier answers stay', () => {
    const table = asked().act('keep').type('-0.01');
    expect(table.refusal).toMatchObject({ kind: 'bad-number', accepted: 'zero or more' });
    table.act('keep', 'keep');
    expect(trouble(table)).toEqual({ kind: 'no-count' });
    expect(table.type('2.5').refusal).toMatchObject({ kind: 'bad-number' });
    expect(trouble(table.act('next'))).toEqual({ kind: 'not-answered' });
    table.type('20').type('0');
    expect(table.refusal).toMatchObject({ kind: 'bad-number', accepted: 'a travel above zero' });
    expect(table.type('4.02').act('keep').refusal).toMatchObject({ kind: 'no-reading' });
    expect(found(table).perDetent).toBeCloseTo(0.201, 9);
    expect(answers(asked().act('keep').type('0'))).toEqual([['gauge within', 0]]);
  });

  test('back and undo take one answer back at a time; escape goes out and comes back to them', () => {
    const table = gauge().type('20').type('4.02').type('9').act('back');
    const whole = [
      ['gauge within', 0.01],
      ['detents', 20],
      ['travel', 4.02],
    ];
    expect(answers(table)).toEqual(whole);
    table.do(escaped).act('keep');
    expect(answers(table)).toEqual(whole);
    expect(answers(table.do({ kind: 'undo-asked' }))).toEqual(whole.slice(0, 2));
    expect(question(table.act('back'))).toBe('detents');
    expect(now(table.act('back', 'back')).step).toBe('way');
    expect(table.do(escaped).bench.mode.kind).toBe('stage');
  });

  test('a board’s count taken back is asked for again, and the turner’s own is not', () => {
    const table = gauge(new Table().board(0)).act('keep').feed(10);
    expect(question(table.act('back'))).toBe('detents');
    table.act('keep').feed(20).type('2.00').act('keep', 'back');
    expect([question(table), answers(table).at(-1)]).toEqual(['mark', ['travel', 2]]);
    expect(question(table.act('back'))).toBe('detents');
  });

  test('a number is typed, erased, bounded and forgotten; the arrows do nothing, again starts over', () => {
    const table = gauge().typing('20').typing('1').do(erased);
    expect(table.bench.typed).toBe('20');
    table.do(escaped);
    expect([table.bench.typed, now(table).step]).toEqual(['', 'asking']);
    expect(table.typing('1'.repeat(40)).bench.typed).toHaveLength(24);
    expect(trouble(table.do(escaped).type(' '))).toEqual({ kind: 'no-count' });
    table.type('20').type('4.02');
    const before = table.bench;
    expect(table.do({ kind: 'moved', by: 1 }).bench).toBe(before);
    expect(now(table.act('again'))).toMatchObject({ step: 'asking', answers: { way: 'travel', given: [] } });
  });

  test('inches typed are inches, also where the unit is switched meanwhile', () => {
    for (const table of [
      gauge(new Table({ ...threaded, unit: 'in' })),
      gauge().do({ kind: 'unit-switched' }),
    ])
      expect(found(table.type('10').type('0.05')).perDetent).toBeCloseTo(0.127, 9);
  });
});

describe('from a pair', () => {
  test("its counts are the job's; the play that its depth gives makes the feed that cut it", () => {
    const pair = new Table().board(0).measured('42.30', 43.4);
    for (const stage of ['bore thread', 'spigot thread']) pair.to(stage).act('keep').detents(5).act('keep');
    const table = byPair(pair.to('trial').type('3').act('keep'));
    expect(question(table)).toBe('play');
    const { job } = table.bench;
    const limits = ofKind('limits', job && limitsOf(pairOf(job, mm(42.3))));
    // Play = clearance x tan(30 degrees) (fit.ts).
    const play = (limits.flank - 1.1) * Math.tan(Math.PI / 6);
    table.type(play.toFixed(4)).act('keep', 'keep');
    expect(question(table)).toBe('nothing');
    expect(found(table).perDetent).toBeCloseTo(0.2, 4);
    expect(found(table).doubt.shares.map(({ name }) => name)).toContain('touch-off in the bore');
    table.act('keep').do(entered);
    expect(table.feeds[0]).toMatchObject({ name: 'cross slide', proven: { detents: 5 } });
  });

  test.each<[string, () => Table, string]>([
    ['no bore', () => new Table(), 'bore'],
    ['no spigot', () => new Table().measured(), 'spigot'],
    ['no trial', measured, 'trial'],
    ['a pair that does not go together', () => tried('2'), 'trial'],
    ['a pair cut deeper since', () => tried().to('spigot thread').type('6'), 'trial'],
    ['a plain lid', () => new Table({ ...threaded, fit: 'plain' }), 'thread'],
  ])('%s: refused with what is missing', (_, on, lack) => {
    const table = byPair(on());
    expect(trouble(table)).toEqual({ kind: 'no-pair', lack });
    expect(now(table).step).toBe('way');
  });

  test('a pair that rattles calibrates as one that runs does', () => {
    expect(now(byPair(tried('4'))).step).toBe('asking');
  });

  test('a play and its doubt may be nothing; then nothing more is asked', () => {
    const table = byPair(tried()).type('0').type('0').type('0');
    expect(question(table)).toBe('nothing');
    expect(answers(table)).toEqual([
      ['play', 0],
      ['play within', 0],
      ['touch-off within', 0],
    ]);
    expect(trouble(table.type('1'))).toEqual({ kind: 'nothing-asked', question: 'nothing' });
    expect(byPair(tried()).type('long').refusal).toMatchObject({ kind: 'bad-number', found: 'long' });
    expect(byPair(tried()).act('keep').refusal).toEqual({ kind: 'no-reading' });
    const again = byPair(tried()).type('0.1').act('again');
    expect([question(again), answers(again)]).toEqual(['play', []]);
  });

  test('where the depths were typed the counts are asked, and figures that do not add up are refused', () => {
    const table = byPair(tried('3', '1.0', unfed));
    expect(question(table)).toBe('bore detents');
    table.type('5').type('6').type('900').act('keep', 'keep', 'next');
    expect(trouble(table)).toMatchObject({ kind: 'no-calibration' });
    table.act('back', 'back', 'back').type('0.08').act('keep', 'keep');
    expect(found(table).perDetent).toBeGreaterThan(0.15);
    const back = [1, 2, 3, 4, 5].map(() => question(table.act('back')));
    expect(back).toEqual(['touch-off within', 'play within', 'play', 'spigot detents', 'bore detents']);
    table.type('5').type('6').type('0.08').act('keep', 'keep', 'next').do(entered);
    expect(table.feeds[0]).not.toHaveProperty('proven');
  });

  test('answers go back one by one to the way', () => {
    expect(now(byPair(tried()).act('back')).step).toBe('way');
    expect(
      now(
        byPair(tried('3', '1.0', unfed))
          .type('5')
          .act('back', 'back'),
      ).step,
    ).toBe('way');
  });

  test('the touch-off offered is the feed’s own where it has one', () => {
    const offered = (setup = threaded) => {
      const table = byPair(tried('3', '5', setup))
        .type('0.08')
        .act('keep');
      return [rowOf(asking(table))?.offers?.(table.bench.job), answers(table.act('keep')).at(-1)];
    };
    const { feed } = threaded;
    if (!feed) throw new Error('no feed');
    expect(offered()).toEqual([0.05, ['touch-off within', 0.05]]);
    expect(offered({ ...threaded, feed: { ...feed, touchOff: mm(0.03) } })).toEqual([
      0.03,
      ['touch-off within', 0.03],
    ]);
  });
});

describe('what the screen says', () => {
  const says = (table: Table) => rowOf(asking(table))?.asks(asking(table));

  test('of each question by a gauge is what to do for it, with or without a board that counts', () => {
    const typing = asked().act('keep');
    expect(says(typing)).toBe(
      'How accurate is the gauge (plus or minus)? Type it, or press Enter for 0.01 mm.',
    );
    expect(says(typing.act('keep'))).toMatch(/how many detents will you feed each time\? Type it/i);
    expect(says(typing.type('20'))).toMatch(/^Take up the slack and zero the gauge/);
    expect(says(typing.type('4.02'))).toMatch(/^One measurement isn't enough/);
    expect(says(typing.type('4.03'))).toMatch(/^Measure once more/);
    const counting = gauge(new Table().board(0));
    expect(says(counting)).toMatch(/The board counts from there\.$/);
    expect(says(counting.act('keep'))).toMatch(/^Feed some detents deeper/);
    expect(says(counting.feed(10).type('2.00'))).toMatch(/^To measure again, back off/);
  });

  test('of each question about a pair, and of the figure known, is what it is', () => {
    const table = byPair(tried('3', '1.0', unfed));
    const all = ['5', '6', '0.08', '0.01', '0.02'].map((answer) => {
      const said = says(table);
      table.type(answer);
      return said;
    });
    expect(all).toEqual([
      expect.stringMatching(/^How many detents deep was the bore cut/),
      expect.stringMatching(/^How many detents deep was the spigot cut/),
      expect.stringMatching(/how far does it shake along its axis/),
      'How accurate is that (plus or minus)? Type it, or press Enter for 0.05 mm.',
      'How accurate was each touch-off (plus or minus)? Type it, or press Enter for 0.05 mm.',
    ]);
    expect(rowOf(asking(table))).toBeNull();
    expect(says(asked().type('3'))).toMatch(/^How far does one detent move the cutter/);
  });

  test('of the answers is each beside its name, of many travels the last four', () => {
    const table = gauge().type('20');
    for (const travel of ['4.01', '4.02', '4.03', '4.04', '4.05']) table.type(travel);
    expect(answersShown(asking(table))).toEqual([
      { name: 'gauge', value: '± 0.01 mm' },
      { name: 'over', value: '20 detents' },
      { name: 'travels', value: '4.02 mm, 4.03 mm, 4.04 mm, 4.05 mm' },
    ]);
    expect(answersShown(asking(gauge()))).toHaveLength(1);
    expect(answersShown(asking(asked().type('3').type('0.2')))).toEqual([]);
    const pair = byPair(tried()).type('0.08').type('0.01').type('0.02');
    expect(answersShown(asking(pair))).toEqual([
      { name: 'bore cut', value: '5 detents' },
      { name: 'spigot cut', value: '5 detents' },
      { name: 'shake', value: '0.08 mm' },
      { name: 'known', value: '± 0.01 mm' },
      { name: 'touch-off', value: '± 0.02 mm' },
    ]);
  });
});

describe('the name', () => {
  const naming = (): Table => gauge().type('20').type('4.02').act('next');

  test('is typed over the offered one, erased letter by letter, and bounded', () => {
    expect(now(naming().do(erased)).name).toBe('');
    expect(now(naming().typing('né').typing('w').do(erased)).name).toBe('né');
    expect(now(naming().typing('x'.repeat(60))).name).toHaveLength(40);
  });

  test('goes back to the questions with escape and back, and nowhere with the rest', () => {
    expect(now(naming().do(escaped)).step).toBe('asking');
    expect(now(naming().act('back')).step).toBe('asking');
    const table = naming();
    const { bench } = table;
    expect(table.act('next', 'again').do({ kind: 'moved', by: 1 }).bench).toBe(bench);
    expect(table.feeds).toEqual([]);
  });

  test('is kept without its blanks by keep, Enter or leaving the field; blanks alone are refused', () => {
    for (const end of [{ kind: 'action', action: 'keep' }, entered, { kind: 'form-finished' }] as const)
      expect(naming().typing(' new ').do(end).feeds).toMatchObject([{ name: 'new' }]);
    const none = naming().type('  ');
    expect(trouble(none)).toEqual({ kind: 'no-name' });
    expect(none.feeds).toEqual([]);
  });

  test('can be given again after the kit could not be written', () => {
    const table = naming();
    table.broken = true;
    expect(table.do(entered).bench.notice).toEqual({
      kind: 'not-done',
      why: 'feed not saved. The disk is full',
    });
    expect(now(table).step).toBe('naming');
    table.broken = false;
    expect(table.do(entered).feeds).toHaveLength(1);
  });
});

describe('nothing is worked out while an answer is missing', () => {
  const job = () => tried().bench.job;
  const uncounted = () => tried('3', '1.0', unfed).bench.job;
  const of = (way: Way, given: { readonly [to: string]: number }): Answers => ({
    way,
    given: Object.entries(given).map(([to, value]) => ({ to: to as 'travel', value })),
  });
  const on = (answers: Answers, job: Job | null) => ({ answers, job, unit: 'mm', feed: null }) as const;
  const travel = { 'gauge within': 0.01, detents: 20, travel: 4.02 };
  const play = { play: 0.08, 'play within': 0.05, 'touch-off within': 0.05 };
  const pair = { 'bore detents': 5, 'spigot detents': 5, ...play };

  test.each([
    ...Object.keys(travel).map((missing) => ['travel', missing, travel, null] as const),
    ...Object.keys(pair).map((missing) => ['pair', missing, pair, uncounted()] as const),
    ['known', 'per detent', { 'per detent': 0.2 }, null] as const,
  ])('by a %s without %s', (way, missing, whole, job) => {
    const { [missing]: _, ...rest } = whole as { readonly [to: string]: number };
    expect(calibrationOf(on(of(way, whole), job))?.kind).toBe('calibration');
    expect(calibrationOf(on(of(way, rest), job))).toBeNull();
  });

  test('or the pair', () => {
    expect(calibrationOf(on(of('pair', play), job()))?.kind).toBe('calibration');
    for (const without of [
      null,
      ...[new Table(), new Table().measured(), tried('2')].map(({ bench }) => bench.job),
    ])
      expect(calibrationOf(on(of('pair', pair), without))).toBeNull();
  });

  test('a pair cut by as many detents on both parts proves them', () => {
    const proven = { proven: { pitch: threaded.pitch, detents: 5 } };
    expect(provenFrom(on(of('pair', play), job()))).toEqual(proven);
    expect(provenFrom(on(of('pair', pair), uncounted()))).toEqual(proven);
    const unlike = of('pair', { ...pair, 'spigot detents': 6 });
    expect(provenFrom(on(unlike, uncounted()))).toEqual({});
    expect(provenFrom(on(of('pair', {}), uncounted()))).toEqual({});
    expect(provenFrom(on(of('pair', pair), null))).toEqual({});
    expect(provenFrom(on(of('travel', travel), job()))).toEqual({});
  });
});

test('a feed calibrated again is the kit’s, and the job on the bench stays as it is', () => {
  const table = gauge(new Table().board(0)).type('20').type('4.02').act('next').do(entered);
  expect(table.feeds).toHaveLength(1);
  expect(table.kinds).not.toContain('setup-changed');
});

test('a bore whose readings scatter makes the feed from its pair less well known', () => {
  const standard = (...bore: readonly string[]) => {
    const table = bore.reduce((at, text) => at.type(text), new Table()).act('keep');
    table.act('next').turns(43.4).act('keep');
    for (const stage of ['bore thread', 'spigot thread']) table.to(stage).type('5');
    return found(byPair(table.to('trial').type('3').act('keep')).type('0.08').type('0.001').type('0.001'))
      .doubt;
  };
  expect(standard('42.29', '42.30', '42.31').standard).toBeGreaterThan(
    standard('42.30', '42.30', '42.30').standard,
  );
});

test('buttons alone go through a calibration, and nothing behind it moves', () => {
  const table = asked(new Table().board(0).to('bore size'));
  const press = (...buttons: readonly (1 | 2 | 3 | 4)[]): Table =>
    table.do(
      ...buttons.map(
        (button) => ({ kind: 'button-changed', button, down: true, heardAt: table.bench.now }) as const,
      ),
    );
  press(1, 1, 1).feed(10).type('2.00');
  expect(press(3, 1).feeds).toHaveLength(1);
  expect(table.bench.job?.stage).toBe('bore size');
});

test('diameters known better than the caliper’s sheet says make the feed better known', () => {
  const of: RunningPair = {
    pitch: threaded.pitch,
    starts: 1,
    cutter: threaded.cutter,
    caliper: threaded.caliper,
    bore: mm(42.3),
    spigot: mm(43.4),
    detents: { female: 5, male: 5 },
    play: mm(0.08),
    playWithin: mm(0.001),
    touchOffWithin: mm(0.001),
  };
  const standardWith = (standard: RunningPair['standard']) =>
    calibration(calibrateByPair(standard ? { ...of, standard } : of)).doubt.standard;
  // The sheet's limit of error and one step, both as rectangles.
  const sheet = mm(Math.hypot(0.03 / Math.sqrt(3), 0.01 / Math.sqrt(12)));
  const [fine, one] = [mm(0.002), { bore: mm(0.002), spigot: sheet }];
  expect(standardWith(undefined)).toBeCloseTo(standardWith({ bore: sheet, spigot: sheet }), 12);
  expect(standardWith({ bore: fine, spigot: fine })).toBeLessThan(standardWith(one));
  expect(standardWith(one)).toBeCloseTo(standardWith({ bore: sheet, spigot: fine }), 12);
});
