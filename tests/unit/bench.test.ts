// The rules of the stages, one by one, as a turner would meet them.
import { expect, test } from 'vitest';
import { jobOf } from '../../src/core/bench/job.ts';
import { zeroAge } from '../../src/core/bench/stages/zero.ts';
import { aimOf } from '../../src/core/bench/target.ts';
import { fedDepth } from '../../src/core/thread/depth.ts';
import { mm } from '../../src/core/units.ts';
import { Table, threaded } from '../support/bench.ts';
import { ofKind } from '../support/of-kind.ts';

test('a typed bore and a held spigot make a job with its target kept', () => {
  const table = new Table().type('42.30').act('keep', 'next');
  const aim = ofKind('aim', table.bench.job ? aimOf(table.bench.job) : null);
  // sharp 60 degrees, 1.0 mm deep both, 16 TPI: limit 1.25 mm (4 x 1 mm less 2 H), wanted 0.15
  expect(aim.target).toBeCloseTo(42.3 + 1.2504 - 0.15, 3);
  table.turns(43.4).act('keep');
  expect(table.bench.job?.spigot).toMatchObject({ diameter: 43.4, how: 'read', fit: 'running' });
  const kinds = table.kinds;
  expect(kinds).toEqual(['job-begun', 'bore-taken', 'stage-entered', 'target-set', 'spigot-taken']);
  expect(table.entries.at(-1)?.readings).toHaveLength(8);
});

test('a moving caliper is not taken, a held one is', () => {
  const table = new Table().type('42.30').act('keep', 'next');
  table.reads(45, 1).reads(44.5, 1).reads(44.1, 1).act('keep');
  expect(table.refusal).toEqual({ kind: 'moving' });
  table.turns(43.41, 4).act('keep');
  expect(table.bench.job?.spigot?.diameter).toBeCloseTo(43.41, 6);
});

test('near, at and past each sound once, in the order met', () => {
  const table = new Table().type('42.30').act('keep', 'next');
  for (const value of [45, 43.8, 43.6, 43.41, 43.4, 43.3, 43.1]) table.reads(value, 5);
  expect(table.sounds.filter((cue) => cue !== 'kept')).toEqual(['near', 'at', 'past', 'past']);
});

test('the zero error is held and taken off, once agreed to', () => {
  const table = new Table().to('zero').reads(0.02, 5).act('keep').to('bore size').type('42.32').act('keep');
  expect(table.bench.job?.zero?.error).toBeCloseTo(0.02, 6);
  expect(table.bench.job?.bore?.diameter).toBeCloseTo(42.3, 6);
});

test('a zero holds for a day, and not over a restart of the board', () => {
  const table = new Table().board().to('zero').reads(0.02, 5).act('keep');
  const standing = () => table.bench.job && zeroAge(table.bench, table.bench.job);
  expect(standing()).toBe('fresh');
  table.pass(23 * 3_600_000);
  expect(standing()).toBe('fresh');
  table.pass(2 * 3_600_000);
  expect(standing()).toBe('old');
  table.reads(0.02, 5).act('keep');
  expect(standing()).toBe('fresh');
  table.do({ kind: 'ticked', now: table.bench.now, wall: table.bench.wall - 48 * 3_600_000 });
  expect(standing()).toBe('old');
  table.do({ kind: 'board-restarted', heardAt: table.bench.now });
  expect(standing()).toBe('restarted');
});

test('jaws that stand open are no zero error, however steady', () => {
  const table = new Table().to('zero').reads(12.4, 5).act('keep');
  expect(table.refusal).toEqual({ kind: 'jaws-open', shown: 12.4, most: 1 });
  expect(table.bench.job?.zero).toBeNull();
  table.act('again').reads(-0.02, 5).act('keep');
  expect(table.bench.job?.zero).toMatchObject({ error: -0.02 });
});

test('five detents from touch-off are a millimetre, taken with their proof', () => {
  const table = new Table().board(100).to('bore thread').act('keep');
  for (let total = 101; total <= 105; total++) table.feed(total);
  const tracker = table.bench.job?.threads.female.tracker;
  expect(tracker && fedDepth(tracker)).toMatchObject({ deepest: 1, proven: true });
  table.act('keep');
  expect(table.bench.job?.threads.female.cut).toMatchObject({ detents: 5, depth: 1, proven: true });
});

test('the bench waits for a board that counts and has not reported its count, and says so', () => {
  const table = new Table().to('bore thread');
  const facts = { board: 'bench-01', firmware: '0.1.0', parts: ['feed'] };
  const heardAt = table.bench.now;
  table.do({ kind: 'link-opened', port: 'a port', heardAt });
  table.do({ kind: 'board-found', facts, at: heardAt, heardAt }).act('keep');
  expect(table.refusal).toEqual({ kind: 'missing', what: 'count' });
  table.feed(7).act('keep');
  expect(table.bench.job?.threads.female.tracker).toMatchObject({ kind: 'tracking', touchedAt: 7 });
});

test('earlier lessons do not make a new trial teach less', () => {
  const tried = (setup: typeof threaded) => {
    const table = new Table(setup)
      .type('42.30')
      .act('keep', 'next')
      .turns(43.4)
      .act('keep')
      .to('trial')
      .act('keep');
    return table.bench.job?.trials[0]?.standard;
  };
  const learned = { shift: mm(0), spread: mm(0.1), reasons: ['an earlier box'] };
  expect(tried({ ...threaded, learned })).toBe(tried(threaded));
});

test('undo gives the job before, and is itself kept', () => {
  const table = new Table().type('42.30').act('keep');
  const before = jobOf(table.entries);
  table.type('43.00').act('keep').do({ kind: 'undo-asked' });
  expect({ ...table.bench.job, touched: 0 }).toEqual({ ...before, touched: 0 });
  expect(table.lastFact?.kind).toBe('undone');
});

test('an entry that cannot be saved is reported, held, and saved when the disk takes it again', () => {
  const table = new Table();
  table.broken = true;
  table.type('42.30').act('keep');
  expect(table.bench.notice).toEqual({ kind: 'not-saved', why: 'the disk is full' });
  expect(table.bench.job?.bore?.diameter).toBeCloseTo(42.3, 6);
  table.broken = false;
  table.pass(6000);
  expect(table.bench.unsaved).toEqual([]);
  expect(table.kinds).toContain('bore-taken');
});

test('a plain lid goes without the thread stages', () => {
  const table = new Table({ ...threaded, fit: 'plain', wanted: mm(-0.05) });
  table.type('40').act('keep', 'next').turns(40.05).act('keep', 'next');
  expect(table.bench.job?.stage).toBe('trial');
  expect(table.bench.job?.spigot?.fit).toBe('running');
});

test('four actions lead from zero to a closed record', () => {
  const table = new Table().to('zero').reads(0, 5).act('keep', 'next');
  table.reads(40, 5).act('keep', 'next').board(0).act('keep');
  table.detents(5);
  table.act('keep', 'next').type('42.3').act('keep', 'next').turns(43.4).act('keep', 'next').act('keep');
  for (let total = 6; total <= 10; total++) table.feed(total);
  table.act('keep', 'next', 'again', 'keep', 'next', 'keep');
  expect(table.bench.job?.closed).toMatchObject({ how: 'runs' });
});
