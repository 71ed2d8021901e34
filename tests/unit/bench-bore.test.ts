// The bore, the hollow and the ring at the bench: what is rocked, held or typed becomes a size with its readings behind it.
import { describe, expect, test } from 'vitest';
import type { Setup } from '../../src/core/bench/setup.ts';
import { hollowState } from '../../src/core/bench/stages/hollow.ts';
import { zeroState } from '../../src/core/bench/stages/zero.ts';
import { TRAIL_AT_MOST } from '../../src/core/bench/state.ts';
import { step } from '../../src/core/bench/step.ts';
import { degrees, millis, mm } from '../../src/core/units.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { refusalWords } from '../../src/screen/words.ts';
import { Table, threaded } from '../support/bench.ts';

/** Rocks across a bore, 13 readings each: chords of an offset that moves evenly. */
function rock(table: Table, diameter: number, rocks: number): Table {
  for (let at = 0; at < rocks * 13; at++) {
    const off = ((at % 13) - 6) * 0.4 + 0.1;
    table.reads(Math.sqrt(diameter ** 2 - 4 * off ** 2), 1);
  }
  return table;
}
const agreedSounds = (table: Table) => table.sounds.filter((cue) => cue === 'agreed').length;

describe('a rocked bore', () => {
  test('sounds once when it agrees, and is kept with every reading in the order heard', () => {
    const table = rock(new Table(), 42.3, 2);
    expect(agreedSounds(table)).toBe(0);
    rock(table, 42.3, 6);
    expect(agreedSounds(table)).toBe(1);
    expect(table.bench.notice).toBeNull();
    table.act('keep');
    expect(table.lastFact).toMatchObject({ kind: 'bore-taken', how: 'rocked', tops: 8, agreeing: 8 });
    const readings = table.entries.at(-1)?.readings ?? [];
    expect(readings).toHaveLength(8 * 13);
    expect(readings.map(({ at }) => at)).toEqual(readings.map(({ at }) => at).toSorted((a, b) => a - b));
    table.act('keep');
    expect(table.refusal).toEqual({ kind: 'not-agreed', reason: 'no-readings' });
  });

  test('stays the bore on the screen while the jaws only lie still, until they rock again', () => {
    const table = rock(new Table(), 42.3, 8).act('keep').reads(42.28, 120);
    expect(sceneOf(table.bench).standing?.word).toBe('KEPT');
    expect(sceneOf(rock(table, 42.3, 2).bench).standing?.word).toBe('ROCKING');
  });

  test('too few rocks are refused and go on: those that follow complete them', () => {
    const table = rock(new Table(), 42.3, 2).act('keep');
    expect(table.refusal).toEqual({ kind: 'not-agreed', reason: 'too-few-peaks' });
    expect(table.kinds).toEqual(['job-begun']);
    rock(table, 42.3, 3).act('keep');
    expect(table.lastFact).toMatchObject({ kind: 'bore-taken', tops: 5 });
    expect(table.entries.at(-1)?.readings).toHaveLength(5 * 13);
  });

  test('rocks that disagree are kept as doubtful with their readings, and the next start over', () => {
    const table = new Table();
    for (const size of [42.3, 41.9, 42.5, 41.7, 42.1, 42.7]) rock(table, size, 1);
    table.act('keep');
    const reason = 'peaks-disagree';
    expect(table.refusal).toEqual({ kind: 'not-agreed', reason });
    expect(table.lastFact).toEqual({ kind: 'capture-doubted', stage: 'bore size', reason });
    expect(table.entries.at(-1)?.readings).toHaveLength(6 * 13);
    expect(table.bench.capture?.readings.length).toBe(0);
  });

  test('rocks that reached wider speak against it and it goes on: those that reach as far agree with them', () => {
    const table = new Table();
    for (const size of [42.3, 42.6, 42.3, 42.45, 42.3]) rock(table, size, 1);
    expect(table.act('keep').refusal).toEqual({ kind: 'not-agreed', reason: 'peak-beyond' });
    rock(table, 42.6, 2).act('keep');
    expect(table.bench.job?.bore?.diameter).toBeCloseTo(42.6, 2);
    expect(table.entries.at(-1)?.readings).toHaveLength(7 * 13);
  });

  test('is of one board: those of another that spoke while a note was written are not joined', () => {
    const table = rock(new Table().board(), 42.3, 2).do({ kind: 'note-asked' });
    table.board(0, 'bench-02').do({ kind: 'escaped' });
    rock(table, 42.3, 2).act('keep');
    expect(table.refusal).toEqual({ kind: 'not-agreed', reason: 'too-few-peaks' });
  });

  test('again throws the rocks away, and another stage forgets them', () => {
    const table = rock(new Table(), 42.3, 3).act('again');
    expect(table.bench.trail).toBeNull();
    expect(rock(table, 42.3, 1).to('hollow').bench.capture).toBeNull();
  });

  test('a full capture starts over unless it agreed; one that agreed stays as it is', () => {
    const full = (table: Table) => {
      const { bench } = table;
      const trail = bench.trail && { ...bench.trail, count: TRAIL_AT_MOST };
      const reading = { value: mm(42), unit: 'mm', step: mm(0.01), text: '42.00', at: bench.now } as const;
      const heard = {
        kind: 'reading-received',
        reading,
        checked: true,
        raw: 'DI,42.00',
        heardAt: bench.now,
      } as const;
      return { before: bench, after: step({ ...bench, trail }, heard).bench };
    };
    const agreed = full(rock(new Table(), 42.3, 5));
    expect(agreed.after.capture).toBe(agreed.before.capture);
    const idle = full(rock(new Table(), 42.3, 1));
    expect(idle.after.trail?.count).toBe(1);
    expect(idle.after.capture?.readings.length).toBe(1);
    const almost = rock(new Table(), 42.3, 1).bench;
    expect(almost.trail?.count).toBe(13);
  });

  test('how strict it is, is the job’s to say', () => {
    const strict = { tolerance: mm(0.02), leastTops: 5, tilt: degrees(0) };
    const table = rock(new Table({ ...threaded, measuring: strict }), 42.3, 4).act('keep');
    expect(table.refusal).toEqual({ kind: 'not-agreed', reason: 'too-few-peaks' });
    rock(table, 42.3, 2).act('keep');
    expect(table.lastFact).toMatchObject({ kind: 'bore-taken', tops: 6 });
    expect(rock(new Table(), 42.3, 4).act('keep').bench.job?.bore?.tops).toBe(4);
  });
});

describe('a typed bore', () => {
  test('is the mean of the typed readings, with their number and how far apart they are', () => {
    const table = new Table().type('42.30').type('42.32').type('42.31').act('keep');
    expect(table.lastFact).toMatchObject({ how: 'typed', degreesOfFreedom: 2, tops: 3, agreeing: 3 });
    expect(table.bench.job?.bore?.diameter).toBeCloseTo(42.31, 9);
    expect(table.bench.job?.bore?.spread).toBeCloseTo(0.02, 9);
    expect(new Table().type('42.28').act('keep').bench.job?.bore?.spread).toBeNull();
  });

  test('is above zero', () => {
    for (const none of ['0', '-42.3', 'wide']) {
      const table = new Table().type(none);
      expect(table.refusal).toMatchObject({ kind: 'bad-number', found: none });
      expect(table.bench.readings).toEqual([]);
    }
  });
});

describe('hollowing', () => {
  const stateOf = ({ bench: { job, ...bench } }: Table) => {
    if (!job) throw new Error('no job');
    return hollowState({ ...bench, job });
  };

  test('two sizes that differ are a taper, wider at the mouth or at depth', () => {
    const measured = (mouth: number, depth: number) =>
      stateOf(new Table().to('hollow').reads(mouth).act('keep').reads(depth).act('keep'));
    expect(measured(42.31, 42.19)).toEqual({
      kind: 'tapered',
      taper: { by: expect.closeTo(0.12, 9), widerAt: 'near' },
    });
    expect(measured(42.19, 42.31)).toMatchObject({ kind: 'tapered', taper: { widerAt: 'far' } });
    expect(measured(42.31, 42.31)).toEqual({ kind: 'parallel' });
  });

  test('a reading above the planned bore is wider; one at it is not', () => {
    const planned = new Table({ ...threaded, plannedBore: mm(42.3) }).to('hollow');
    expect(stateOf(planned)).toEqual({ kind: 'unread' });
    expect(stateOf(planned.reads(42.3))).toEqual({ kind: 'still' });
    expect(stateOf(planned.reads(42.31))).toEqual({ kind: 'wider' });
  });

  const hollowed = (table: Table) => {
    const { mouth, depth } = table.bench.job ?? { mouth: null, depth: null };
    return [mouth?.diameter, depth?.diameter];
  };

  test('measures the mouth, then the depth, then the mouth again', () => {
    const table = new Table().to('hollow').reads(42.31, 4).act('keep');
    expect(hollowed(table)).toEqual([42.31, undefined]);
    table.reads(42.19, 4).act('keep');
    expect(hollowed(table)).toEqual([42.31, 42.19]);
    table.reads(42.36, 4).act('keep');
    expect(hollowed(table)).toEqual([42.36, 42.19]);
    expect(table.bench.job?.mouth?.how).toBe('read');
  });

  test('takes a typed size as typed, and nothing twice, moving or unread', () => {
    const table = new Table().to('hollow').act('keep');
    expect(table.refusal).toEqual({ kind: 'no-reading' });
    table.type('42.3').act('keep');
    expect(table.bench.job?.mouth).toEqual({ diameter: 42.3, how: 'typed' });
    expect(table.act('keep').refusal).toEqual({ kind: 'no-reading' });
    expect(table.reads(40, 1).reads(41, 1).act('keep').refusal).toEqual({ kind: 'moving' });
    expect(table.type('wide').refusal).toMatchObject({ kind: 'bad-number', found: 'wide' });
    table.reads(42.3, 4).act('again', 'keep');
    expect(table.refusal).toEqual({ kind: 'no-reading' });
  });
});

describe('the lands of the jaws', () => {
  const withLand = (jawLand: number): Setup => ({
    ...threaded,
    caliper: { ...threaded.caliper, jawLand: mm(jawLand) },
  });

  test('of the kit’s caliper are put back on a bore and never on a spigot', () => {
    const table = new Table(withLand(0.6)).type('8.00').act('keep');
    // Straight lands show a chord: D^2 = d^2 + w^2 (derived).
    expect(table.bench.job?.bore?.diameter).toBeCloseTo(Math.hypot(8, 0.6), 12);
    table.act('next').type('9.10').act('keep');
    expect(table.bench.job?.spigot?.diameter).toBe(9.1);
    expect(new Table().type('8.00').act('keep').bench.job?.bore?.diameter).toBe(8);
  });

  test('found with a ring stand for those of the kit, and a rocked ring is measured by its maximum', () => {
    const table = new Table(withLand(0.6)).to('zero').type('20');
    for (let swing = 0; swing < 5; swing++) rock(table, 19.98, 1);
    table.reads(12, 4).act('keep');
    expect(table.bench.job?.ring?.measured).toBeCloseTo(19.98, 2);
    const land = table.bench.job?.ring?.land ?? 0;
    table.to('bore size').type('8.00').act('keep');
    expect(table.bench.job?.bore?.diameter).toBeCloseTo(Math.hypot(8, land), 12);
  });
});

test.each([
  ['20.05', "a ring of 20.00 mm reads 20.05 mm, which isn't possible. Check the zero"],
  ['12.00', "a ring of 20.00 mm reads 12.00 mm, so this isn't that ring. Press a"],
])('a ring of 20 mm that reads %s is refused with both sizes and what to do', (read, words) => {
  const why = new Table().to('zero').type('20').type(read).act('keep').refusal;
  expect(why && refusalWords(why, 'mm')).toContain(words);
});

test('a second size is compared with the first one, a first one with the plan', () => {
  const asked = ({ bench: { notice } }: Table) => (notice?.kind === 'question' ? notice.ask : null);
  const planned = () => new Table({ ...threaded, plannedBore: mm(60) });
  expect(asked(planned().type('42.3'))).toMatchObject({ kind: 'odd-size', found: 42.3, expected: 60 });
  expect(asked(planned().type('60.5'))).toBeNull();
  const bored = planned().type('60.5').act('keep');
  expect(asked(bored.type('42.3'))).toMatchObject({ expected: 60 });
  const across = new Table().type('42.3').act('keep', 'again');
  expect(asked(across.type('60'))).toMatchObject({ kind: 'odd-size', found: 60, expected: 42.3 });
});

describe('the zero', () => {
  const state = ({ bench: { job, ...bench } }: Table) => {
    if (!job) throw new Error('no job');
    return zeroState({ ...bench, job });
  };

  test('is open, wandering, steady or kept, and says when a steady one is the one that was kept', () => {
    const table = new Table().to('zero');
    expect(state(table)).toMatchObject({ kind: 'too-few' });
    expect(state(table.reads(3.5, 4))).toEqual({ kind: 'open' });
    expect(state(new Table().to('zero').reads(0.02, 1).reads(0.3, 1).reads(0.02, 2)).kind).toBe('wandering');
    const closed = new Table().to('zero').reads(0.02, 4);
    expect(state(closed)).toMatchObject({ kind: 'steady', error: expect.closeTo(0.02, 9), isKept: false });
    expect(state(closed.act('keep'))).toEqual({ kind: 'kept' });
    expect(state(closed.reads(0.02, 4))).toMatchObject({ kind: 'steady', isKept: true });
    expect(state(closed.reads(-0.01, 40))).toMatchObject({ isKept: false });
  });

  test('is kept with the board that showed it, where there is one', () => {
    const zeroed = (table: Table) => table.to('zero').reads(0.02, 4).act('keep').entries.at(-1)?.fact;
    expect(zeroed(new Table().board(0, 'bench-07'))).toMatchObject({ kind: 'zero-taken', board: 'bench-07' });
    expect(zeroed(new Table())).not.toHaveProperty('board');
  });

  test('is read a few times, and not twice from the same readings', () => {
    const table = new Table().to('zero').reads(0.02, 2).act('keep');
    expect(table.refusal).toEqual({ kind: 'no-reading' });
    table.reads(0.02, 1).act('keep');
    expect(table.bench.job?.zero?.error).toBeCloseTo(0.02, 9);
    expect(table.bench.readings).toEqual([]);
    expect(table.act('keep').refusal).toEqual({ kind: 'no-reading' });
  });

  test('is up to a millimetre typed; from three on it is a ring', () => {
    const ringAfter = (text: string) => {
      const table = new Table().to('zero').type(text);
      return [table.bench.ring, table.bench.readings.length, table.refusal?.kind];
    };
    expect(ringAfter('1')).toEqual([null, 1, undefined]);
    expect(ringAfter('-1')).toEqual([null, 1, undefined]);
    expect(ringAfter('3')).toEqual([3, 0, undefined]);
    expect(ringAfter('2.99')).toEqual([null, 0, 'bad-number']);
  });

  test('forgets the readings from before a ring was named', () => {
    const table = new Table().to('zero').reads(0.02, 4).type('10').act('keep');
    expect(table.refusal).toEqual({ kind: 'no-reading' });
    expect(table.act('again').bench.ring).toBeNull();
  });

  test('kept again is trusted again after a restart; a note changes nothing', () => {
    const table = new Table().board().do({ kind: 'board-restarted', heardAt: millis(0) });
    expect(table.bench.zeroDoubted).toBe(true);
    table.do({ kind: 'note-asked' }, { kind: 'typed', text: 'a pause' }, { kind: 'entered' });
    expect(table.bench.zeroDoubted).toBe(true);
    table.to('zero').reads(0.02, 4).act('keep');
    expect(table.bench.zeroDoubted).toBe(false);
  });
});
