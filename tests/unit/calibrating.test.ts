// Calibrating the feed at the bench: both ways, question by question, and every refusal.
import { describe, expect, test } from 'vitest';
import { calibrationOf, questionIn } from '../../src/core/bench/calibration/model.ts';
import { pairOf } from '../../src/core/bench/threads.ts';
import { type Calibration, calibrateByTravel } from '../../src/core/thread/calibrate.ts';
import { limitsOf } from '../../src/core/thread/limits.ts';
import { mm } from '../../src/core/units.ts';
import { Table, threaded } from '../support/bench.ts';

const asked = (table: Table): Table => table.do({ kind: 'calibrate-asked' });
const calibrating = ({ bench }: Table) => {
  if (bench.mode.kind !== 'calibrate') throw new Error(`the bench shows ${bench.mode.kind}`);
  return bench.mode.calibrating;
};
const question = (table: Table) => questionIn(calibrating(table).answers);
const troubleOf = ({ bench: { notice } }: Table) =>
  notice?.kind === 'refused' && notice.why.kind === 'calibration' ? notice.why.trouble : notice;
const found = (table: Table): Calibration => {
  const made = calibrationOf(calibrating(table).answers, table.bench.job);
  if (made?.kind !== 'calibration') throw new Error(`nothing was found: ${JSON.stringify(made)}`);
  return made;
};

describe('against a gauge', () => {
  test('typed alone: detents, travels, a name; the figures are those of the sums', () => {
    const table = asked(new Table().to('bore thread')).act('take', 'take');
    expect(question(table)).toBe('detents');
    table.type('20').type('4.02').type('4.03mm').type('4.02');
    const by = calibrateByTravel(20, [mm(4.02), mm(4.03), mm(4.02)], mm(0.01 / Math.sqrt(3)));
    expect(found(table)).toEqual(by);
    table.act('next');
    expect(calibrating(table)).toMatchObject({ step: 'naming', name: 'cross slide' });
    table.do({ kind: 'typed', text: 'n' }, { kind: 'typed', text: 'ew' }, { kind: 'entered' });
    expect(table.feeds).toEqual([
      {
        name: 'new',
        perDetent: whole(by).perDetent,
        standard: whole(by).doubt.standard,
        freedom: whole(by).doubt.degreesOfFreedom,
      },
    ]);
    expect(table.bench.mode.kind).toBe('stage');
    expect(table.bench.notice).toEqual({ kind: 'feed-kept', name: 'new' });
  });

  test('with a board the detents are its count, and every travel must be over as many', () => {
    const table = asked(new Table().board(7)).act('take', 'take');
    table.act('take').feed(8).feed(17).type('2.01');
    expect(question(table)).toBe('mark');
    expect(found(table).perDetent).toBeCloseTo(0.201, 9);
    table.type('2.02');
    expect(troubleOf(table)).toEqual({ kind: 'nothing-asked', question: 'mark' });
    table.feed(5).act('take').type('2.02');
    expect(troubleOf(table)).toEqual({ kind: 'not-fed', detents: 0 });
    table.feed(16).type('2.02');
    expect(troubleOf(table)).toEqual({ kind: 'other-count', detents: 11, first: 10 });
    table.feed(15).type('2.03');
    expect(found(table).perDetent).toBeCloseTo(0.202, 9);
  });

  test('a count that broke off is not counted on, and the travels before it stand', () => {
    const table = asked(new Table().board(0)).act('take', 'take', 'take').feed(10).type('2.00');
    table.act('take').feed(14);
    table.do({ kind: 'board-restarted', heardAt: table.bench.now });
    expect(troubleOf(table)).toEqual({ kind: 'count-broken', why: 'restart' });
    expect(question(table)).toBe('mark');
    expect(found(table).perDetent).toBeCloseTo(0.2, 9);
    table.feed(0).act('take').feed(10).type('2.01');
    expect(found(table).perDetent).toBeCloseTo(0.2005, 9);
  });

  test('the feed of a job that was touched off goes on being counted meanwhile', () => {
    const table = new Table().board(0).to('bore thread').act('take').feed(1);
    asked(table).feed(2);
    expect(table.bench.mode.kind).toBe('calibrate');
    expect(table.bench.job?.threads.female.tracker).toMatchObject({ count: 2 });
  });

  test('nothing is guessed: each refusal says why, and what was answered stays', () => {
    const table = asked(new Table()).act('take').type('-0.01');
    expect(table.bench.notice).toMatchObject({ why: { kind: 'bad-number', accepted: 'zero or more' } });
    table.act('take', 'take');
    expect(troubleOf(table)).toEqual({ kind: 'no-count' });
    table.type('2.5');
    expect(table.bench.notice).toMatchObject({ why: { kind: 'bad-number' } });
    table.act('next');
    expect(troubleOf(table)).toEqual({ kind: 'not-answered' });
    table.type('20').type('0');
    expect(table.bench.notice).toMatchObject({
      why: { kind: 'bad-number', accepted: 'a travel above zero' },
    });
    table.type('4.02').act('take');
    expect(table.bench.notice).toMatchObject({ why: { kind: 'no-reading' } });
    expect(found(table).perDetent).toBeCloseTo(0.201, 9);
  });

  test('back takes one answer back at a time; escape goes out and comes back to them', () => {
    const table = asked(new Table()).act('take', 'take').type('20').type('4.02').type('9');
    table.act('back');
    expect(calibrating(table).answers).toMatchObject({ travels: [4.02] });
    table.do({ kind: 'escaped' }).act('take');
    expect(calibrating(table).answers).toMatchObject({ travels: [4.02], detents: 20 });
    table.act('back', 'back');
    expect(question(table)).toBe('detents');
    table.act('back', 'back');
    expect(calibrating(table).step).toBe('way');
    table.do({ kind: 'escaped' });
    expect(table.bench.mode.kind).toBe('stage');
  });

  test('a kit that cannot be written loses nothing: the name can be given again', () => {
    const table = asked(new Table()).act('take', 'take').type('20').type('4.02').act('next');
    table.broken = true;
    table.do({ kind: 'entered' });
    expect(table.bench.notice).toEqual({ kind: 'not-done', why: 'feed: the disk is full' });
    expect(calibrating(table).step).toBe('naming');
    table.broken = false;
    table.do({ kind: 'entered' });
    expect(table.feeds).toHaveLength(1);
  });

  test('inches typed are inches', () => {
    const table = asked(new Table({ ...threaded, unit: 'in' }))
      .act('take', 'take')
      .type('10')
      .type('0.05');
    expect(found(table).perDetent).toBeCloseTo(0.127, 9);
  });
});

const whole = (made: ReturnType<typeof calibrateByTravel>): Calibration => {
  if (made.kind !== 'calibration') throw new Error('no calibration');
  return made;
};

describe('from a pair', () => {
  /** A pair cut by counting to 1 mm each, with its trial. */
  const pair = (verdict: string): Table => {
    const table = new Table().board(0).type('42.30').act('take', 'next').turns(43.4).act('take');
    for (const stage of ['bore thread', 'spigot thread']) {
      table.to(stage).act('take');
      const from = table.bench.feed?.total ?? 0;
      for (let detent = 1; detent <= 5; detent += 1) table.feed(from + detent);
      table.act('take');
    }
    return table.to('trial').type(verdict).act('take');
  };

  test("its counts are the job's; the play that its depth gives makes the feed that cut it", () => {
    const table = asked(pair('3')).type('2');
    expect(question(table)).toBe('play');
    const { job } = table.bench;
    const limits = job && limitsOf(pairOf(job, mm(42.3)));
    if (limits?.kind !== 'limits') throw new Error('no limits');
    // Play = clearance x tan(30 degrees) (fit.ts).
    const play = (limits.flank - 1.1) * Math.tan(Math.PI / 6);
    table.type(play.toFixed(4)).act('take', 'take');
    expect(question(table)).toBe('nothing');
    expect(found(table).perDetent).toBeCloseTo(0.2, 4);
    expect(found(table).doubt.shares.map(({ name }) => name)).toContain('touch-off in the bore');
    table.act('take').do({ kind: 'entered' });
    expect(table.feeds[0]).toMatchObject({ name: 'cross slide', proven: { detents: 5 } });
  });

  test.each([
    ['no bore', (table: Table) => table, 'bore'],
    ['no spigot', (table: Table) => table.type('42.30').act('take'), 'spigot'],
    ['no trial', (table: Table) => table.type('42.30').act('take', 'next').turns(43.4).act('take'), 'trial'],
  ] as const)('%s: refused with what is missing', (_, so, lack) => {
    const table = asked(so(new Table())).type('2');
    expect(troubleOf(table)).toEqual({ kind: 'no-pair', lack });
    expect(calibrating(table).step).toBe('way');
  });

  test('a pair that does not go together, or was cut deeper since, does not calibrate', () => {
    expect(troubleOf(asked(pair('2')).type('2'))).toEqual({ kind: 'no-pair', lack: 'trial' });
    const reworked = pair('3').to('spigot thread').act('again').feed(12).act('take');
    expect(troubleOf(asked(reworked).type('2'))).toEqual({ kind: 'no-pair', lack: 'trial' });
  });

  test('where the depths were typed the counts are asked, and figures that do not add up are refused', () => {
    const { feed: _, ...unfed } = threaded;
    const table = new Table(unfed).type('42.30').act('take', 'next').turns(43.4).act('take');
    for (const stage of ['bore thread', 'spigot thread']) table.to(stage).type('1.0');
    asked(table.to('trial').type('3').act('take')).type('2');
    expect(question(table)).toBe('bore detents');
    table.type('5').type('6').type('900').act('take', 'take', 'next');
    expect(troubleOf(table)).toMatchObject({ kind: 'no-calibration' });
    table.act('back', 'back', 'back').type('0.08').act('take', 'take');
    expect(found(table).perDetent).toBeGreaterThan(0.15);
    table.act('next').do({ kind: 'entered' });
    expect(table.feeds[0]).not.toHaveProperty('proven');
  });
});

test('buttons alone go through a calibration, and nothing behind it moves', () => {
  const table = new Table().board(0).to('bore size');
  const press = (button: 1 | 2 | 3 | 4): Table =>
    table.do({ kind: 'button-changed', button, down: true, heardAt: table.bench.now });
  asked(table);
  press(1);
  press(1);
  press(1);
  table.feed(10).type('2.00');
  press(3);
  press(1);
  expect(table.feeds).toHaveLength(1);
  expect(table.bench.job?.stage).toBe('bore size');
});
