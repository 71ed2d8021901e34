// Zero, hollow and bore size at the bench: what is rocked, held or typed becomes a size with its readings, or is refused and why.
import { describe, expect, test } from 'vitest';
import { clearanceInDoubt } from '../../src/core/bench/doubt.ts';
import { hollowState } from '../../src/core/bench/stages/hollow.ts';
import { zeroAge, zeroState } from '../../src/core/bench/stages/zero.ts';
import { TRAIL_AT_MOST } from '../../src/core/bench/state.ts';
import { step } from '../../src/core/bench/step.ts';
import { degrees, inches, type LengthUnit, mm } from '../../src/core/units.ts';
import { eventFor } from '../../src/screen/keymap.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { refusalWords } from '../../src/screen/words.ts';
import { played, type Table, threaded } from '../support/bench.ts';
import { asks, keeps, near, no, type Step, story, tells } from '../support/story.ts';

const DAY = 24 * 3_600_000;
const withLand = { ...threaded, caliper: { ...threaded.caliper, jawLand: mm(0.6) } };
const planned = (bore: number) => ({ ...threaded, plannedBore: mm(bore) });

/** Rocks across a bore, 13 readings each: chords of an offset that moves evenly. */
function rock(table: Table, diameter: number, rocks: number, spoilt?: { at: number; value: number }): Table {
  for (let at = 0; at < rocks * 13; at++) {
    const off = ((at % 13) - 6) * 0.4 + 0.1;
    table.reads(at === spoilt?.at ? spoilt.value : Math.sqrt(diameter ** 2 - 4 * off ** 2), 1);
  }
  return table;
}

describe('the zero', () => {
  const wanders = { refused: { kind: 'zero-wanders' } };
  test.each<Step>([
    ['@zero 0.02x5 keep @bore-size =42.32 keep', { bore: near(42.3) }],
    ['@zero 12.4x5 keep', no('jaws-open', { shown: 12.4, most: 1 })],
    ['@zero keep', no('no-reading')],
    ['@zero 0.02x2 keep', no('no-reading')],
    ['@zero 0.02x3 keep', { ...keeps('zero-taken', { error: near(0.02) }), values: [] }],
    ['@zero 0.02x3 keep keep', no('no-reading')],
    ['@zero 0.01x5 0.09x1 keep', wanders],
    ['@zero =0.02 =-0.02 =0.02 keep', wanders],
    ['@zero 0.01x5 wait:2500 keep', no('stale-reading')],
    ['@zero 0.01x5 lost keep', no('stale-reading')],
    // Up to a millimetre it is what the closed jaws read, from three on a ring.
    ['@zero =1', { ring: null, values: [1], refused: null }],
    ['@zero =-1', { ring: null, values: [-1], refused: null }],
    ['@zero =2.99', { ...no('bad-number'), ring: null, values: [] }],
    ['@zero =3', { ring: 3, values: [], refused: null }],
    ['@zero 0.02x4 =10 keep', no('no-reading')],
    ['@zero =10 again', { ring: null }],
  ])('%s', tells);

  test('can be read again after jaws that stood open', () =>
    story(played('@zero 12.4x5 keep'), ['again -0.02x5 keep', keeps('zero-taken', { error: -0.02 })]));

  test('is open, wandering, steady or kept, and says when a steady one is the one that was kept', () => {
    const steady = { kind: 'steady', error: near(0.02), isKept: false };
    for (const [script, state] of [
      ['', { kind: 'too-few' }],
      ['3.5x4', { kind: 'open' }],
      ['0.02x1 0.3x1 0.02x2', { kind: 'wandering' }],
      ['0.02x4', steady],
      ['0.02x4 keep', { kind: 'kept' }],
      ['0.02x4 keep 0.02x4', { ...steady, isKept: true }],
      ['0.02x4 keep -0.01x40', { isKept: false }],
    ] as const)
      expect(zeroState(played(`@zero ${script}`).ready), script).toMatchObject(state);
  });

  test('holds for a day, and not over a restart of the board', () => {
    const table = played('board @zero 0.02x5 keep');
    const age = (script: string) => zeroAge(table.play(script).bench, table.job);
    expect(age('')).toBe('fresh');
    expect(age(`wait:${DAY - 3_600_000}`)).toBe('fresh');
    expect(age(`wait:${2 * 3_600_000}`)).toBe('old');
    expect(age('0.02x5 keep')).toBe('fresh');
    table.do({ kind: 'ticked', now: table.bench.now, wall: table.bench.wall - 2 * DAY });
    expect(age('')).toBe('old');
    expect(age('restart note ~pause enter')).toBe('restarted');
    expect(age('0.02x4 keep')).toBe('fresh');
  });

  test('is kept with the board that showed it, where there is one', () => {
    expect(played('board:bench-07 @zero 0.02x4 keep').lastFact).toMatchObject({ board: 'bench-07' });
    expect(played('@zero 0.02x4 keep').lastFact).not.toHaveProperty('board');
  });
});

describe('a ring, and the lands of the jaws', () => {
  // Straight lands show a chord: D^2 = d^2 + w^2 (derived).
  const land = Math.sqrt(10 ** 2 - 9.98 ** 2);
  test.each<Step>([
    ['@zero =10 9.98x5 keep', { ...keeps('ring-taken', { land: near(land) }), ring: null }],
    ['@zero =10 9.98x5 keep @bore-size =42.30 keep', { bore: near(Math.hypot(42.3, land)) }],
    ['@zero =10 =9.98 keep', keeps('ring-taken', { measured: near(9.98) })],
    ['@zero =10 10.02x5 keep', no('no-land', { why: 'reads-high', known: 10, shown: 10.02 })],
    ['@zero =10 9x1 9.9x1 keep', no('moving')],
    ['=8.00 keep', { bore: 8 }],
  ])('%s', tells);

  test.each([
    ['20.05', "a ring of 20.00 mm reads 20.05 mm, which isn't possible. Check the zero"],
    ['12.00', "a ring of 20.00 mm reads 12.00 mm, so this isn't that ring. Press a"],
  ])('a ring of 20 mm that reads %s is refused with both sizes and what to do', (read, words) => {
    const { refusal } = played(`@zero =20 =${read} keep`);
    expect(refusal && refusalWords(refusal, 'mm')).toContain(words);
  });

  test('those of the kit’s caliper are put back on a bore and never on a spigot', () =>
    story(
      played('', withLand),
      ['=8.00 keep', { bore: near(Math.hypot(8, 0.6)) }],
      ['next =9.10 keep', { spigot: 9.1 }],
    ));

  test('those found with a ring stand for the kit’s, and a rocked ring is measured by its maximum', () => {
    const table = rock(played('@zero =20', withLand), 19.98, 5).play('12x4 keep');
    expect(table.job.ring?.measured).toBeCloseTo(19.98, 2);
    const found = table.job.ring?.land ?? 0;
    story(table, ['@bore-size =8.00 keep', { bore: near(Math.hypot(8, found)) }]);
  });

  test('a capture at the ring keeps a bounded number of readings', () => {
    expect(played('@zero =20 19.5x10050').bench.capture?.readings.length).toBeLessThan(100);
  });
});

describe('hollowing', () => {
  test.each<Step>([
    ['@hollow keep', no('no-reading')],
    ['@hollow =42.3 keep', keeps('hollow-measured', { where: 'mouth', diameter: 42.3, how: 'typed' })],
    ['@hollow =42.3 keep keep', no('no-reading')],
    ['@hollow 40x1 41x1 keep', no('moving')],
    ['@hollow =wide', no('bad-number', { found: 'wide' })],
    ['@hollow 42.3x4 again keep', no('no-reading')],
    ['@hollow 43.4x5 wait:2500 keep', no('stale-reading')],
    ['@hollow 43.4x5 lost keep', no('stale-reading')],
    ['@hollow 42.31x4 keep', keeps('hollow-measured', { where: 'mouth', how: 'read' })],
    ['@hollow 42.31x4 keep 42.19x4 keep', keeps('hollow-measured', { where: 'depth' })],
    ['@hollow 42.31x4 keep 42.19x4 keep 42.36x4 keep', keeps('hollow-measured', { where: 'mouth' })],
    // Blanks alone are nothing typed.
    ['@hollow 42.3x4 ~_ enter', keeps('hollow-measured')],
  ])('%s', tells);

  test('remembers forty readings', () => expect(played('@hollow 42.3x100').values).toHaveLength(40));

  test.each([
    ['42.31x4 keep 42.19x4 keep', { kind: 'tapered', taper: { by: near(0.12), widerAt: 'near' } }],
    ['42.19x4 keep 42.31x4 keep', { kind: 'tapered', taper: { widerAt: 'far' } }],
    ['42.31x4 keep 42.31x4 keep', { kind: 'parallel' }],
    ['', { kind: 'unread' }],
    ['42.3x4', { kind: 'still' }],
    // Above the planned bore it is wider; at it, it isn't.
    ['42.31x4', { kind: 'wider' }],
  ])('%s with 42.3 mm planned: %j', (script, state) => {
    expect(hollowState(played(`@hollow ${script}`, planned(42.3)).ready)).toMatchObject(state);
  });
});

describe('a rocked bore', () => {
  const few = no('not-agreed', { reason: 'too-few-peaks' });
  const readingsOf = (table: Table) => table.entries.at(-1)?.readings ?? [];

  test('sounds once when it agrees, and is kept with every reading in the order heard', () => {
    const agreed = (table: Table) => table.sounds.filter((cue) => cue === 'agreed').length;
    const table = rock(played(''), 42.3, 2);
    expect(agreed(table)).toBe(0);
    expect(agreed(rock(table, 42.3, 6))).toBe(1);
    expect(table.bench.notice).toBeNull();
    story(table, ['keep', keeps('bore-taken', { how: 'rocked', tops: 8, agreeing: 8 })]);
    expect(readingsOf(table)).toHaveLength(8 * 13);
    const times = readingsOf(table).map(({ at }) => at);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    story(table, ['keep', no('not-agreed', { reason: 'no-readings' })]);
  });

  test('stays the bore on the screen while the jaws only lie still, until they rock again', () => {
    const table = rock(played(''), 42.3, 8);
    story(table, ['keep 42.28x120', { word: 'KEPT' }]);
    story(rock(table, 42.3, 2), ['', { word: 'ROCKING' }]);
  });

  test('too few rocks are refused and go on: those that follow complete them', () => {
    const table = rock(played(''), 42.3, 2);
    story(table, ['keep', { ...few, kinds: ['job-begun'] }]);
    story(rock(table, 42.3, 3), ['keep', keeps('bore-taken', { tops: 5 })]);
    expect(readingsOf(table)).toHaveLength(5 * 13);
  });

  test('rocks that disagree are kept as doubtful with their readings, and the next start over', () => {
    const table = played('');
    for (const size of [42.3, 41.9, 42.5, 41.7, 42.1, 42.7]) rock(table, size, 1);
    const reason = 'peaks-disagree';
    const doubted = keeps('capture-doubted', { stage: 'bore size', reason });
    story(table, ['keep', { ...no('not-agreed', { reason }), ...doubted }]);
    expect(readingsOf(table)).toHaveLength(6 * 13);
    expect(table.bench.capture?.readings.length).toBe(0);
  });

  test('rocks that reached wider speak against it and it goes on: those that reach as far agree with them', () => {
    const table = played('');
    for (const size of [42.3, 42.6, 42.3, 42.45, 42.3]) rock(table, size, 1);
    story(table, ['keep', no('not-agreed', { reason: 'peak-beyond' })]);
    story(rock(table, 42.6, 2), ['keep', { bore: expect.closeTo(42.6, 2) }]);
    expect(readingsOf(table)).toHaveLength(7 * 13);
  });

  test('is of one board: another drops the rocks and says so, also while a note was written', () => {
    const table = rock(played('board'), 42.3, 3);
    story(table, ['board:bench-02', no('another-board', { board: 'bench-02' })]);
    expect(table.bench.capture?.readings.length).toBe(0);
    story(rock(table, 40.1, 5), ['keep', { bore: expect.closeTo(40.1, 1) }]);
    story(rock(rock(played('board'), 42.3, 2).play('note board:bench-02 esc'), 42.3, 2), ['keep', few]);
  });

  test('again throws the rocks away, and another stage forgets them', () => {
    const table = rock(played(''), 42.3, 3).play('again');
    expect(table.bench.trail).toBeNull();
    expect(rock(table, 42.3, 1).play('@hollow').bench.capture).toBeNull();
  });

  test('a full capture starts over unless it agreed; one that agreed stays as it is', () => {
    const full = (rocks: number) => {
      const { bench } = rock(played(''), 42.3, rocks);
      expect(bench.trail?.count).toBe(13 * rocks);
      const trail = bench.trail && { ...bench.trail, count: TRAIL_AT_MOST };
      const reading = { value: mm(42), unit: 'mm', step: mm(0.01), text: '42.00', at: bench.now } as const;
      const heard = {
        kind: 'reading-received',
        reading,
        checked: true,
        raw: 'DI',
        heardAt: bench.now,
      } as const;
      return { before: bench, after: step({ ...bench, trail }, heard).bench };
    };
    const agreed = full(5);
    expect(agreed.after.capture).toBe(agreed.before.capture);
    const idle = full(1);
    expect([idle.after.trail?.count, idle.after.capture?.readings.length]).toEqual([1, 1]);
  });

  test('how strict it is, is the job’s to say', () => {
    const measuring = { tolerance: mm(0.02), leastTops: 5, tilt: degrees(0) };
    const table = rock(played('', { ...threaded, measuring }), 42.3, 4);
    story(table, ['keep', few]);
    story(rock(table, 42.3, 2), ['keep', keeps('bore-taken', { tops: 6 })]);
    story(rock(played(''), 42.3, 4), ['keep', keeps('bore-taken', { tops: 4 })]);
  });

  test('a caliper that lay idle for hours still rocks one', () =>
    story(rock(played('17.03x10050'), 42.3, 6), ['keep', { bore: expect.closeTo(42.3, 1) }]));

  test('one flipped data bit changes it by less than a caliper step, wherever it falls', () => {
    const clean = rock(played(''), 42.3, 5).play('keep').job.bore?.diameter ?? 0;
    expect(clean).toBeCloseTo(42.3, 1);
    for (let bit = 0; bit < 20; bit++)
      for (const at of [6, 32]) {
        const table = rock(played(''), 42.3, 5, { at, value: (4229 ^ (1 << bit)) / 100 }).play('keep');
        const bore = table.job.bore?.diameter;
        if (bore) expect(Math.abs(bore - clean)).toBeLessThan(0.02);
        else expect(table.refusal?.kind).toBe('not-agreed');
      }
  });
});

describe('a typed measurement', () => {
  /** Each character as a key, then Enter. */
  function keys(text: string, unit: LengthUnit = 'mm'): Table {
    const table = played('', { ...threaded, unit });
    for (const character of text) {
      const event = eventFor({ kind: 'text', text: character }, table.bench);
      if (event) table.do(event);
    }
    return table.play('enter');
  }

  test.each([
    ['42,3', 'mm', 42.3],
    [' 42.3 ', 'mm', 42.3],
    ['42.30 mm', 'mm', 42.3],
    ['42.3mm', 'in', 42.3],
    [',5in', 'mm', 12.7],
    ['1,5in', 'mm', 38.1],
    ['1,665', 'in', 42.291],
    ['1/2', 'in', 12.7],
    ['1 1/2', 'in', 38.1],
    ['1-1/2', 'in', 38.1],
    ['1-1/2in', 'mm', 38.1],
    ['1 21/32 in', 'mm', 42.06875],
  ] as const)('%j in a bench of %s is %d mm, key by key', (text, unit, value) => {
    const table = keys(text, unit);
    // A size that can hardly be meant is asked about.
    expect((table.asked ? table.play('enter') : table).values).toEqual([near(value)]);
  });

  test.each([
    '1e3mm',
    '3cm',
    '42.3x',
    '4,2,3',
    '1,234.5',
    '1.234,5',
    '42 3',
    '1/2',
    '1 1/2',
    '0x2a',
    '42.3q',
  ])('%s is refused as it was typed', (text) =>
    story(keys(text), ['', { ...no('bad-number', { found: text }), values: [] }]),
  );

  test.each(['x1/2', '1/2x'])('a fraction alone is inches on a bench in inches: not %s', (text) =>
    story(played('', { ...threaded, unit: 'in' }), [`=${text}`, no('bad-number', { found: text })]),
  );

  const long = '4'.repeat(41);
  test.each<Step>([
    ['=0', { ...no('bad-number', { found: '0' }), values: [] }],
    ['=-42.3', no('bad-number', { found: '-42.3' })],
    ['=wide', no('bad-number', { found: 'wide' })],
    [`~${long.slice(1)}`, { refused: null }],
    [`~${long}`, no('bad-number', { found: long, accepted: 'one measurement' })],
    // Taken back before anything that was kept.
    ['=42.30 =42.35 undo', { values: [42.3], kinds: ['job-begun'], notice: { what: 'reading taken back' } }],
    // One that can hardly be meant is asked about first; changing it drops the question.
    ['=423', { ...asks('odd-size', { found: 423, expected: null }), values: [] }],
    ['=423 enter', { asked: null, values: [423] }],
    ['=423 erase enter', { values: [42] }],
    // A second size is compared with the first one.
    ['=42.3 keep again =60', asks('odd-size', { found: 60, expected: 42.3 })],
    ['=42.3 keep again =40.30', { asked: null }],
    ['=42.3 keep again =40.30 keep', asks('odd-shape', { known: 42.3 })],
    // Again starts over; with nothing read it goes on to the quarter turn.
    ['again', { place: 'first' }],
    ['=42.3 keep =42.31 again', { place: 'first', values: [] }],
    ['=42.3 keep again', { place: 'across' }],
    ['=42.3 keep again =42.31 again', { place: 'across', values: [] }],
    ['=42.3 keep again again', { place: 'first' }],
    // Readings that disagree are doubtful: not kept, none lost.
    ['=42.06 =42.28 =42.30', { word: 'DOUBTFUL', about: expect.stringContaining('0.24 mm') }],
    [
      '=42.06 =42.28 =42.30 keep',
      { ...no('readings-disagree'), kinds: ['job-begun'], values: { length: 3 } },
    ],
  ])('%s', tells);

  test('is compared with the plan, a second size with the first', () => {
    const bored = planned(46.5);
    story(
      played('', bored),
      ['=46.6', { asked: null }],
      ['esc =41.3', asks('odd-size', { found: 41.3, expected: 46.5 })],
    );
    const kept = () => played('=42.30 keep', bored);
    story(kept(), ['=41.30', asks('odd-size', { expected: 46.5 })]);
    story(kept(), ['again =46.60', asks('odd-size', { expected: 42.3 })]);
    story(kept(), ['again =42.31', { asked: null, values: [42.31] }]);
    story(played('', planned(inches(1.65))), ['=47.3', { ...asks('odd-size'), values: [] }]);
    expect(sceneOf(played('=423').bench).typing?.text).toBe('423');
  });

  test('of a bore is the mean of those typed, and as sure as their spread and number make it', () => {
    const kept = (script: string) => {
      const table = played(script);
      return { fact: table.lastFact, doubt: Number(clearanceInDoubt(table.job)?.standard) };
    };
    const spread = kept('=42.28 =42.30 =42.31 keep');
    expect(spread.fact).toMatchObject({
      kind: 'bore-taken',
      how: 'typed',
      degreesOfFreedom: 2,
      tops: 3,
      agreeing: 3,
      spread: near(0.03),
      diameter: near((42.28 + 42.3 + 42.31) / 3),
      standard: expect.closeTo(Math.sqrt((0.0167 ** 2 + 0.0033 ** 2 + 0.0133 ** 2) / 2 / 3), 3),
    });
    const one = kept('=42.30 keep');
    expect(one.fact).toMatchObject({ standard: 0.03, tops: 1, agreeing: 1, spread: null });
    const same = kept('=42.30 =42.30 =42.30 keep');
    expect(spread.doubt).toBeGreaterThan(same.doubt);
    expect(one.doubt).toBeGreaterThan(same.doubt);
  });
});

describe('typed readings in the line again', () => {
  const three = '=42.30 =42.53 =42.31';
  const all = [42.3, 42.53, 42.31];
  test.each<Step>([
    ['=42.30 =42.35 up', { typed: '42.35', values: [42.3] }],
    [`${three} up up`, { typed: '42.53', values: [42.3, 42.31] }],
    [`${three} up up erase erase ~29 enter`, { values: [42.3, 42.29, 42.31] }],
    [`${three} up up erase erase ~29 enter =42.28`, { values: [42.3, 42.29, 42.31, 42.28] }],
    // The arrows only pass them, and change nothing.
    [`${three} up up up up`, { typed: '42.30' }],
    [`${three} up up up up down`, { typed: '42.53' }],
    [`${three} up up down down`, { typed: '', values: all }],
    [`${three} up up down down =42.29`, { values: [...all, 42.29] }],
    // Changed, they don't leave the line for an arrow.
    [`${three} up erase up down`, { typed: '42.3', values: [42.3, 42.53] }],
    // They are as they were where the correction is refused, is too long, or a button does something else.
    [`${three} up up ~9 =x`, { values: all }],
    [`${three} up up ~${'1'.repeat(50)}`, { values: all }],
    [`${three} up up ~9 keep`, { values: all }],
    // Escape drops one, and so does erasing it whole.
    [`${three} up up esc =42.29`, { values: [42.3, 42.31, 42.29] }],
    [`${three} up up erase erase erase erase erase`, { typed: '', values: [42.3, 42.31] }],
    [`${three} up up erase erase erase erase erase =42.29`, { values: [42.3, 42.31, 42.29] }],
    // Where only the newest counts, none is picked further back.
    ['@hollow =39.8 =39.9 up up', { typed: '39.9', values: [39.8] }],
    // With their unit where the bench has another now, and never over what is being typed.
    ['=42.30 unit up', { typed: '42.30mm' }],
    ['=42.30 ~4 up', { typed: '4', values: [42.3] }],
    ['=42.30 down', { typed: '', values: [42.3] }],
    ['up', { typed: '' }],
  ])('%s', tells);

  test('stay in the line while the board goes on reading', () => {
    const table = played('=42.30 keep next =43.70 up 43.6x2');
    expect(table.bench.lifted).toMatchObject({ reading: { value: 43.7 } });
    expect(table.play('erase =5').values.at(-1)).toBe(43.75);
    expect(table.bench.lifted).toBeNull();
  });

  test('are listed', () => {
    expect(sceneOf(played('=42.30 =42.35').bench).panel).toMatchObject({
      kind: 'table',
      rows: [{ value: '42.30 mm' }, { value: '42.35 mm' }],
    });
  });
});
