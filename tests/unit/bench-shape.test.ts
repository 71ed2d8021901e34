// Taper and ovality at the bench: the other sizes of a part, what they do to the fit, and when they are asked for.
import { describe, expect, test } from 'vitest';
import { clearanceInDoubt } from '../../src/core/bench/doubt.ts';
import { aimOf, expectedOf } from '../../src/core/bench/target.ts';
import { mm } from '../../src/core/units.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { Table, threaded } from '../support/bench.ts';
import { rock } from '../support/moments/begun.ts';

/** Its touch-off is known to a hundredth, so that the shape is what is in doubt. */
const sure = { ...threaded, feed: { ...threaded.feed, touchOff: mm(0.01) } } as typeof threaded;
/** Sharp 60 degree threads of 16 TPI cut 1 mm deep each touch at this allowance (4 x 1 mm less 2 H). */
const LIMIT = 4 - 2 * (25.4 / 16) * (Math.sqrt(3) / 2);
const HALF = Math.PI / 4;
const bored = (setup = sure) => new Table(setup).type('42.30').act('keep');
const jobOn = ({ bench: { job } }: Table) => {
  if (!job) throw new Error('no job');
  return job;
};
const targetOf = (table: Table): number => {
  const aim = aimOf(jobOn(table));
  if (aim.kind !== 'aim') throw new Error(aim.kind);
  return aim.target;
};
const clearances = (table: Table) => {
  const job = jobOn(table);
  const expected = job.spigot && expectedOf(job, job.spigot);
  if (expected?.kind !== 'expected') throw new Error('nothing expected');
  return { tightest: expected.clearance, loosest: expected.loosest };
};
/** Again until this size is asked for, then typed and kept. */
function measured(table: Table, place: 'across' | 'end', text: string): Table {
  for (let tries = 0; tries < 3 && table.bench.place !== place; tries++) table.act('again');
  expect(table.bench.place).toBe(place);
  return table.type(text).act('keep');
}

describe('an oval bore', () => {
  test('is measured a quarter turn round by typing, and makes the target fit its worst turn', () => {
    const table = bored();
    const before = targetOf(table);
    measured(table, 'across', '42.18');
    expect(jobOn(table).bore).toMatchObject({ diameter: 42.3, across: 42.18, acrossStandard: 0.03 });
    // D = 42.24, h = (pi / 2) 0.12 / 2: the narrowest width is D - h
    const narrowest = 42.24 - HALF * 0.12;
    expect(targetOf(table)).toBeCloseTo(before - (42.3 - narrowest), 9);
    const scene = sceneOf(table.bench);
    expect(scene.standing).toMatchObject({
      word: 'OVAL',
      about: '0.12 mm: fits like 42.15 mm',
    });
    expect(clearanceInDoubt(jobOn(table))?.shares.map(({ name }) => name)).toContain('ovality of the bore');
  });

  test('is rocked a quarter turn round, and undo takes back that size alone', () => {
    const table = rock(new Table(sure).board(), 42.3, 5).act('keep', 'again');
    expect(table.bench.place).toBe('across');
    rock(table, 42.18, 5).act('keep');
    const { bore } = jobOn(table);
    expect(bore?.diameter).toBeCloseTo(42.3, 1);
    expect(bore?.across).toBeCloseTo(42.18, 1);
    expect(table.entries.at(-1)?.readings).toHaveLength(5 * 13);
    table.do({ kind: 'undo-asked' });
    expect(table.bench.notice).toEqual({ kind: 'undone', what: 'the last size measured' });
    expect(jobOn(table).bore).toMatchObject({ how: 'rocked' });
    expect(jobOn(table).bore?.across).toBeUndefined();
  });

  test('that is the same both ways is round; a new first size drops the second', () => {
    const table = measured(bored(), 'across', '42.30');
    expect(sceneOf(table.bench).standing).toMatchObject({
      word: 'KEPT',
      about: expect.stringMatching(/round$/),
    });
    expect(jobOn(table.type('42.4').act('keep')).bore?.across).toBeUndefined();
  });

  test('again starts the current measurement over before it goes to another size', () => {
    const table = bored().type('42.4').act('again');
    expect([table.bench.place, table.bench.readings]).toEqual(['first', []]);
    expect(new Table(sure).act('again').bench.place).toBe('first');
  });

  test('a size that can hardly be of the same bore is asked about', () => {
    const table = bored().act('again').type('40.30').act('keep');
    expect(table.bench.notice).toMatchObject({ kind: 'question', ask: { kind: 'odd-shape' } });
    expect(jobOn(table).bore?.across).toBeUndefined();
    expect(jobOn(table.act('keep')).bore?.across).toBe(40.3);
  });
});

describe('a spigot', () => {
  /** Kept also where it is off its target. */
  const turned = (table = bored()) => {
    table.to('spigot').type('43.40').act('keep');
    return table.bench.notice?.kind === 'question' ? table.act('keep') : table;
  };

  test('wider at its end takes that off its clearance at the tightest place', () => {
    const table = measured(turned(), 'end', '43.46');
    expect(jobOn(table).spigot).toMatchObject({ diameter: 43.4, end: 43.46, fit: 'running' });
    const { tightest, loosest } = clearances(table);
    expect(tightest).toBeCloseTo(LIMIT - (43.4 - 42.3) - 0.06, 2);
    expect(loosest - tightest).toBeCloseTo(0.06, 9);
    expect(sceneOf(table.bench).facts).toContainEqual({ name: 'taper', value: '0.06 mm wider at the end' });
    expect(sceneOf(table.bench).standing).toMatchObject({
      word: 'TAPERED',
      about: expect.stringMatching(/^0\.06 mm: running, clearance 0\.\d+ mm$/),
    });
  });

  test('of the same taper as its bore loses nothing', () => {
    const table = new Table(sure).to('hollow');
    for (const text of ['42.30', '42.20']) table.type(text).act('keep');
    table.to('bore size').type('42.30').act('keep');
    turned(table);
    const alone = clearances(table).tightest;
    measured(table, 'end', '43.30');
    expect(clearances(table).tightest).toBeCloseTo(alone + 0.1, 9);
    expect(clearances(table).loosest).toBeCloseTo(clearances(table).tightest, 9);
  });

  test('oval in an oval bore: the worst turn, and the loosest square to it', () => {
    const table = measured(bored(), 'across', '42.18');
    measured(turned(table), 'across', '43.34');
    const { tightest, loosest } = clearances(table);
    const [narrowest, widest] = [42.24 - HALF * 0.12, 43.37 + HALF * 0.06];
    expect(tightest).toBeCloseTo(LIMIT - (widest - narrowest), 2);
    expect(loosest - tightest).toBeCloseTo(2 * HALF * (0.12 + 0.06), 9);
    expect(sceneOf(table.bench).standing).toMatchObject({
      word: 'OVAL',
      about: expect.stringMatching(/^0\.06 mm: /),
    });
  });

  test('that is turned again is not taken to have the shape of the one before', () => {
    const table = measured(turned(), 'end', '43.60');
    expect(jobOn(table).spigot?.fit).toBe('seized');
    expect(sceneOf(table.bench).next).toContain('Turn its end down');
    const before = targetOf(table);
    expect(before).toBeCloseTo(targetOf(bored()), 9);
    table.type('43.38').act('keep');
    expect(jobOn(table).spigot).toMatchObject({ diameter: 43.38, fit: 'running' });
    expect(jobOn(table).spigot?.end).toBeUndefined();
  });

  test('never sounds while its end is measured, and keeps nothing that moves', () => {
    const table = turned(bored().board());
    table.act('again', 'again');
    const { length } = table.sounds;
    table.reads(43.2, 4).reads(43.5, 1);
    expect(table.sounds).toHaveLength(length);
    table.act('keep');
    expect(table.bench.notice).toMatchObject({ kind: 'refused', why: { kind: 'moving' } });
    expect(jobOn(table.reads(43.46, 4).act('keep')).spigot?.end).toBe(43.46);
  });
});

describe('a quarter turn is asked for', () => {
  const asked = (wood: string | undefined, bore: string, setup = sure) => {
    const { wood: _, ...bare } = setup;
    const table = new Table(wood === undefined ? bare : { ...bare, wood }).type(bore).act('keep', 'keep');
    return sceneOf(table.bench).next.includes('may be oval');
  };

  test.each([
    // D |CT - CR|: oak 0.071 and walnut 0.032 mm a percent at 42.3 mm
    ['European oak', '42.30', true],
    ['European walnut', '42.30', false],
    ['European walnut', '80', true],
    ['green plum', '30', true],
    ['an old plank', '30', false],
    ['an old plank', '70', true],
  ])('of %s, %s mm: %s', (wood, bore, asks) => {
    expect(asked(wood, bore)).toBe(asks);
  });

  test('of wood without a name only where it is large', () => {
    expect([asked(undefined, '42.30'), asked(undefined, '70')]).toEqual([false, true]);
  });

  test('no more once it was measured', () => {
    const table = measured(bored({ ...sure, wood: 'European oak' }), 'across', '42.2');
    expect(sceneOf(table.bench).next).not.toContain('may be oval');
  });
});
