// Calibrating the feed under the turner's hands: every key at every step, and what is asked before anything is worked out.
import { describe, expect, test } from 'vitest';
import {
  type ByPair,
  type ByTravel,
  calibrateByPairInHand,
  calibrationOf,
  emptyPairAnswers,
  emptyTravelAnswers,
  offeredFor,
  type PairInHand,
  provenFrom,
  questionIn,
} from '../../src/core/bench/calibration/model.ts';
import type { BenchEvent } from '../../src/core/bench/event.ts';
import { mm } from '../../src/core/units.ts';
import { kit, Table, threaded } from '../support/bench.ts';

const asked = (table = new Table()): Table => table.do({ kind: 'calibrate-asked' });
const now = ({ bench }: Table) => {
  if (bench.mode.kind !== 'calibrate') throw new Error(`the bench shows ${bench.mode.kind}`);
  return bench.mode.calibrating;
};
const question = (table: Table) => questionIn(now(table).answers);
const why = ({ bench: { notice } }: Table) => (notice?.kind === 'refused' ? notice.why : null);
const escaped: BenchEvent = { kind: 'escaped' };
const erased: BenchEvent = { kind: 'erased' };
const typed = (text: string): BenchEvent => ({ kind: 'typed', text });
/** A pair of 5 detents each that runs, as the job on the bench. */
const ran = (verdict = '3'): Table => {
  const table = new Table().type('42.30').act('take', 'next').turns(43.4).act('take');
  for (const stage of ['bore thread', 'spigot thread']) table.to(stage).type('5');
  return table.to('trial').type(verdict).act('take');
};

describe('the choice of the way', () => {
  test('turns with again and with the arrows, and a number chooses', () => {
    const { job } = ran().bench;
    expect(now(asked(ran())).answers.way).toBe('travel');
    expect(now(asked(ran()).act('again', 'again')).answers.way).toBe('known');
    expect(now(asked(ran()).act('again', 'again', 'again')).answers.way).toBe('travel');
    expect(now(asked(ran()).act('again')).answers).toEqual(emptyPairAnswers(job));
    expect(now(asked(ran()).do({ kind: 'moved', by: 1 })).answers.way).toBe('pair');
    expect(now(asked(ran()).type(' 2 '))).toMatchObject({ step: 'asking', answers: { way: 'pair' } });
    expect(now(asked(ran()).type(' 1 '))).toMatchObject({ step: 'asking', answers: { way: 'travel' } });
    const wrong = asked().type('4');
    expect([now(wrong).step, why(wrong)]).toEqual([
      'way',
      { kind: 'bad-number', found: '4', accepted: '1, 2 or 3' },
    ]);
  });

  test('going on keeps what was answered that way, the other way begins anew', () => {
    const table = asked(ran()).act('take', 'take').type('20').do(escaped).act('take');
    expect(now(table).answers).toMatchObject({ detents: 20 });
    table.do(escaped).type('2').do(escaped).type('1');
    expect(now(table).answers).toEqual(emptyTravelAnswers);
  });

  test('back, and escape, leave for where the turner came from, with nothing said', () => {
    for (const leave of [
      escaped,
      { kind: 'action', action: 'back' } as const,
      { kind: 'undo-asked' } as const,
    ]) {
      const table = asked().type('9').do(leave);
      expect(table.bench).toMatchObject({ mode: { kind: 'stage' }, typed: '', notice: null });
    }
    const welcome = new Table();
    welcome.do({ kind: 'calibration-opened', kit });
    expect(welcome.bench.mode.kind).toBe('calibrate');
  });

  test('the feed is named as the job has it, or the kit, or plainly', () => {
    const { feed: _, ...unfed } = threaded;
    const name = (table: Table, feeds = kit.feeds) =>
      now(table.do({ kind: 'calibration-opened', kit: { ...kit, feeds } })).name;
    const other = [{ name: 'other slide', perDetent: mm(0.1), lostDetents: 0, perDetentStandard: mm(0) }];
    expect(name(new Table(), other)).toBe('cross slide');
    expect(name(new Table(unfed), other)).toBe('other slide');
    expect(name(new Table(unfed), [])).toBe('feed');
  });
});

describe('the questions', () => {
  const asking = (): Table => asked().act('take', 'take');

  test('a number is typed, erased, bounded and forgotten', () => {
    const table = asking().do(typed('20'), typed('1'), erased);
    expect(table.bench.typed).toBe('20');
    table.do(escaped);
    expect([table.bench.typed, now(table).step]).toEqual(['', 'asking']);
    expect(table.do(typed('1'.repeat(40))).bench.typed).toHaveLength(24);
    table.do(escaped, typed(' '), { kind: 'entered' });
    expect(why(table)).toEqual({ kind: 'calibration', trouble: { kind: 'no-count' } });
  });

  test('the unit can be switched, and counts for what is typed next', () => {
    const table = asking().do({ kind: 'unit-switched' });
    expect(table.bench.unit).toBe('in');
    table.type('10').type('0.05');
    expect(now(table).answers).toMatchObject({ travels: [expect.closeTo(1.27, 9)] });
    expect(table.do({ kind: 'unit-switched' }).bench.unit).toBe('mm');
  });

  test('the arrows do nothing, undo takes back, again begins the same way anew', () => {
    const table = asking().type('20').type('4.02');
    const before = table.bench;
    expect(table.do({ kind: 'moved', by: 1 }).bench).toBe(before);
    expect(now(table.do({ kind: 'undo-asked' })).answers).toMatchObject({ detents: 20, travels: [] });
    expect(now(table.act('again'))).toMatchObject({ step: 'asking', answers: emptyTravelAnswers });
    const pair = asked(ran()).type('2').type('0.1').act('again');
    expect(now(pair).answers).toEqual(emptyPairAnswers(pair.bench.job));
  });

  test('a gauge, a play and its doubt may be nothing, a travel may not', () => {
    const table = asked().act('take').type('0');
    expect(now(table).answers).toMatchObject({ gaugeWithin: 0 });
    const pair = asked(ran()).type('2').type('0').type('0').type('0');
    expect([question(pair), now(pair).answers]).toEqual([
      'nothing',
      { way: 'pair', detents: { female: 5, male: 5 }, play: 0, playWithin: 0, touchOffWithin: 0 },
    ]);
    expect(why(pair.type('1'))).toMatchObject({ trouble: { kind: 'nothing-asked', question: 'nothing' } });
    expect(why(asked(ran()).type('2').type('long'))).toMatchObject({ kind: 'bad-number', found: 'long' });
    expect(why(asked(ran()).type('2').act('take'))).toEqual({ kind: 'no-reading' });
  });

  test('a pair’s answers go back one by one, typed counts last, then to the way', () => {
    const { feed: _, ...unfed } = threaded;
    const table = new Table(unfed).type('42.30').act('take', 'next').turns(43.4).act('take');
    for (const stage of ['bore thread', 'spigot thread']) table.to(stage).type('1.0');
    asked(table.to('trial').type('3').act('take'))
      .type('2')
      .type('5')
      .type('6')
      .type('0.1')
      .act('take', 'take');
    const back = ['touch-off within', 'play within', 'play', 'bore detents'].map(() =>
      question(table.act('back')),
    );
    expect(back).toEqual(['touch-off within', 'play within', 'play', 'bore detents']);
    expect(now(table.act('back')).step).toBe('way');
    const one = asked(ran()).type('2').act('back');
    expect(now(one).step).toBe('way');
  });

  test('a board’s count taken back is asked for again, and the turner’s own is not', () => {
    const table = asked(new Table().board(0)).act('take', 'take', 'take').feed(10);
    expect(now(table.act('back')).answers).toMatchObject({ mark: null, counted: false, detents: null });
    table.act('take').feed(20).type('2.00').act('take', 'back');
    expect(now(table).answers).toMatchObject({ mark: null, counted: true, detents: 10, travels: [2] });
  });

  test('nothing fed is no travel, and a restart breaks off only what was being counted', () => {
    const table = asked(new Table().board(3)).act('take', 'take', 'take').type('2.00');
    expect(why(table)).toEqual({ kind: 'calibration', trouble: { kind: 'not-fed', detents: 0 } });
    const between = asked(new Table().board(0)).act('take', 'take').type('20').type('4.02');
    const { answers } = now(between);
    between.do({ kind: 'board-restarted', heardAt: between.bench.now });
    expect([now(between).answers, why(between)]).toEqual([answers, null]);
    const pair = asked(ran()).type('2').do({ kind: 'board-restarted', heardAt: table.bench.now });
    expect(why(pair)).toBeNull();
  });

  test('a pair that rattles calibrates as one that runs does; a plain lid has no thread', () => {
    expect(now(asked(ran('4')).type('2')).step).toBe('asking');
    const lack = (table: Table) => why(asked(table).type('2'));
    const plain = new Table({ ...threaded, fit: 'plain' });
    expect(lack(plain)).toEqual({ kind: 'calibration', trouble: { kind: 'no-pair', lack: 'thread' } });
  });

  test('the touch-off offered is the feed’s own where it has one', () => {
    const { job } = new Table({ ...threaded, feed: { ...kit.feeds[0], touchOff: mm(0.03) } as never }).bench;
    expect(offeredFor('touch-off within', job)).toBe(0.03);
    expect(offeredFor('play within', job)).toBe(0.05);
    expect(offeredFor('touch-off within', new Table().bench.job)).toBe(0.05);
    expect(offeredFor('touch-off within', null)).toBe(0.05);
  });
});

describe('the name', () => {
  const naming = (): Table => asked().act('take', 'take').type('20').type('4.02').act('next');

  test('is typed over what was offered, erased by the letter, and bounded', () => {
    expect(now(naming().do(erased)).name).toBe('');
    expect(now(naming().do(typed('né'), typed('w'), erased)).name).toBe('né');
    expect(now(naming().do(typed('x'.repeat(60)))).name).toHaveLength(40);
  });

  test('goes back to the questions with escape and back, and nowhere with the rest', () => {
    expect(now(naming().do(escaped)).step).toBe('asking');
    expect(now(naming().act('back')).step).toBe('asking');
    const table = naming();
    const { bench } = table;
    expect(table.act('next', 'again').do({ kind: 'moved', by: 1 }).bench).toBe(bench);
    expect(table.feeds).toEqual([]);
  });

  test('is kept without its blanks by take, Enter or leaving the field; blanks alone are none', () => {
    for (const end of [
      { kind: 'action', action: 'take' },
      { kind: 'entered' },
      { kind: 'form-finished' },
    ] as const)
      expect(naming().do(typed(' new '), end).feeds).toMatchObject([{ name: 'new' }]);
    const none = naming().do(typed('  '), { kind: 'entered' });
    expect(why(none)).toEqual({ kind: 'calibration', trouble: { kind: 'no-name' } });
    expect(none.feeds).toEqual([]);
  });
});

describe('nothing is worked out while an answer is missing', () => {
  const travel: ByTravel = { ...emptyTravelAnswers, gaugeWithin: mm(0.01), detents: 20, travels: [mm(4.02)] };
  test.each<Partial<ByTravel>>([{ gaugeWithin: null }, { detents: null }, { travels: [] }])(
    '%j',
    (missing) => {
      expect(calibrationOf(travel, null)?.kind).toBe('calibration');
      expect(calibrationOf({ ...travel, ...missing }, null)).toBeNull();
    },
  );

  const pair: ByPair = {
    way: 'pair',
    detents: { female: 5, male: 5 },
    play: mm(0.08),
    playWithin: mm(0.05),
    touchOffWithin: mm(0.05),
  };
  test.each<Partial<ByPair>>([
    { detents: { female: null, male: 5 } },
    { detents: { female: 5, male: null } },
    { play: null },
    { playWithin: null },
    { touchOffWithin: null },
  ])('%j', (missing) => {
    const { job } = ran().bench;
    expect(calibrationOf(pair, job)?.kind).toBe('calibration');
    expect(calibrationOf({ ...pair, ...missing }, job)).toBeNull();
  });

  test('or the pair', () => {
    expect(calibrationOf(pair, null)).toBeNull();
    expect(calibrationOf(pair, new Table().bench.job)).toBeNull();
    expect(calibrationOf(pair, new Table().type('42.3').act('take').bench.job)).toBeNull();
    expect(calibrationOf(pair, ran('2').bench.job)).toBeNull();
  });

  test('a pair cut by as many detents on both parts proves them', () => {
    const { job } = ran().bench;
    expect(provenFrom(pair, job)).toEqual({ proven: { pitch: threaded.pitch, detents: 5 } });
    expect(provenFrom({ ...pair, detents: { female: 5, male: 6 } }, job)).toEqual({});
    expect(provenFrom({ ...pair, detents: { female: null, male: null } }, job)).toEqual({});
    expect(provenFrom(pair, null)).toEqual({});
    expect(provenFrom(travel, job)).toEqual({});
  });
});

test('diameters known better than the caliper’s sheet says make a surer feed', () => {
  const of: PairInHand = {
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
  const standardWith = (bore: number, spigot: number) => {
    const made = calibrateByPairInHand({ ...of, standard: { bore: mm(bore), spigot: mm(spigot) } });
    return made.kind === 'calibration' ? made.doubt.standard : null;
  };
  const bySheet = calibrateByPairInHand(of);
  // The sheet's limit of error and one step, both as rectangles.
  const sheet = Math.hypot(0.03 / Math.sqrt(3), 0.01 / Math.sqrt(12));
  expect(bySheet.kind === 'calibration' && bySheet.doubt.standard).toBeCloseTo(
    standardWith(sheet, sheet) ?? 0,
    12,
  );
  expect(standardWith(0.002, 0.002)).toBeLessThan(standardWith(0.002, sheet) ?? 0);
  expect(standardWith(0.002, sheet)).toBeCloseTo(standardWith(sheet, 0.002) ?? 0, 12);
});
