// Threads chased by hand: strokes counted by key, the depth that a crest's flat shows, crests measured, and what none of it tells.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { adviceOn } from '../../src/core/bench/advice.ts';
import { clearanceInDoubt } from '../../src/core/bench/doubt.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { chasingOf } from '../../src/core/bench/stages/chased-thread.ts';
import { expectedOf, trialChances } from '../../src/core/bench/target.ts';
import { depthAfter, depthFromFlat, FLAT_BY_EYE, strokesLeft } from '../../src/core/thread/depth.ts';
import { crestLeft, grooveDepth, grooveWidth, sharpHeight } from '../../src/core/thread/form.ts';
import { degrees, mm } from '../../src/core/units.ts';
import { Table, threaded } from '../support/bench.ts';

const { feed: _, ...unfed } = threaded;
const byHand: Setup = { ...unfed, byHand: true };
const PITCH = byHand.pitch.length;

const refusalOf = ({ bench: { notice } }: Table) => (notice?.kind === 'refused' ? notice.why : null);
const strokes = (table: Table, count: number): Table => {
  for (let at = 0; at < count; at++) table.do({ kind: 'detent-keyed', by: 1 });
  return table;
};
const back = (table: Table): Table => table.do({ kind: 'detent-keyed', by: -1 });
const jobOf = (table: Table) => {
  const { job } = table.bench;
  if (!job) throw new Error('no job');
  return job;
};
const chasing = (table: Table, part: 'female' | 'male' = 'female') =>
  chasingOf({ ...table.bench, job: jobOf(table) }, part);
const lastFact = (table: Table) => table.entries.at(-1)?.fact;
const atBoreThread = () => new Table(byHand).to('bore thread');
/** Bore thread measured by its flat, bore and spigot kept, at the spigot's thread. */
const atSpigotThread = (spigot = '43.4') =>
  atBoreThread()
    .type('0.5')
    .to('bore size')
    .type('42.3')
    .act('keep')
    .to('spigot')
    .type(spigot)
    .act('keep', 'keep')
    .to('spigot thread');

describe('the depth that a flat shows', () => {
  const tip = fc.oneof(
    fc.constant({ kind: 'sharp' } as const),
    fc
      .double({ min: 0.01, max: 0.3, noNaN: true })
      .map((width) => ({ kind: 'flat', width: mm(width) }) as const),
    fc
      .double({ min: 0.01, max: 0.2, noNaN: true })
      .map((radius) => ({ kind: 'radius', radius: mm(radius) }) as const),
  );

  test('is the groove that leaves that flat, for every form', () => {
    fc.assert(
      fc.property(
        tip,
        fc.double({ min: 20, max: 90, noNaN: true }),
        fc.double({ min: 0.001, max: 2, noNaN: true }),
        (of, form, depth) => {
          const angle = degrees(form);
          expect(grooveDepth(grooveWidth(mm(depth), of, angle), of, angle)).toBeCloseTo(depth, 9);
        },
      ),
    );
  });

  test('is known within the accuracy of the eye: at 60 degrees 0.87 of it', () => {
    const at = depthFromFlat({ pitch: mm(1.5), angle: degrees(60), tip: { kind: 'sharp' } }, mm(0.5));
    expect(at?.depth).toBeCloseTo(0.866, 3);
    expect(at?.within).toBeCloseTo(FLAT_BY_EYE * Math.cos(Math.PI / 6), 3);
  });

  test('of a crest that looks like a point is full depth less what the eye may miss, and leaves a crest', () => {
    const form = { pitch: mm(1.5), angle: degrees(60), tip: { kind: 'sharp' } } as const;
    const at = depthFromFlat(form, mm(0));
    const full = sharpHeight(form.pitch, form.angle);
    expect(at && at.depth + at.within).toBeCloseTo(full, 9);
    expect(crestLeft(form.pitch, at?.depth ?? mm(9), form.tip, form.angle)).toBeGreaterThan(0);
  });

  test('is none where the flat is the whole pitch, or what the tip alone leaves', () => {
    const form = { pitch: mm(1.5), angle: degrees(60), tip: { kind: 'flat', width: mm(0.2) } } as const;
    expect(depthFromFlat(form, mm(1.5))).toBeNull();
    expect(depthFromFlat(form, mm(1.3))).toBeNull();
    expect(depthFromFlat(form, mm(1.29))).not.toBeNull();
  });
});

describe('strokes', () => {
  const measured = { strokes: 12, depth: mm(0.6), within: mm(0.09) };

  test('left come from the depth measured, as a range over its doubt', () => {
    expect(strokesLeft(measured, 12, mm(1))).toEqual({ about: 8, from: 5, to: 12 });
    expect(strokesLeft(measured, 15, mm(1))).toEqual({ about: 5, from: 2, to: 9 });
    expect(strokesLeft(measured, 30, mm(1))).toEqual({ about: 0, from: 0, to: 0 });
  });

  test('are not guessed from a scratch that may be nothing, or where none was counted', () => {
    expect(strokesLeft({ strokes: 3, depth: mm(0.08), within: mm(0.09) }, 3, mm(1))).toBeNull();
    expect(strokesLeft({ ...measured, strokes: 0 }, 0, mm(1))).toBeNull();
  });

  test('since the measurement add their depth, and more doubt the more they are', () => {
    expect(depthAfter(measured, 12)).toEqual({
      depth: expect.closeTo(0.6, 9),
      within: expect.closeTo(0.09, 9),
    });
    const more = depthAfter(measured, 16);
    expect(more.depth).toBeCloseTo(0.8, 9);
    // The flat's doubt by 16/12, and four strokes that differ by up to half of 0.05 mm each.
    expect(more.within).toBeCloseTo(0.09 * (16 / 12) + 0.5 * 0.05 * 2, 9);
  });
});

describe('what the screen says of it', () => {
  const said = (table: Table, part: 'female' | 'male' = 'female') => chasing(table, part).state;

  test.each([
    // a flat f is (25.4 / 16 - f) cos 30 deep, by eye within 0.1 mm of f: 0.087 mm of depth
    ['0.54', 'shallow'],
    ['0.53', 'full'],
    ['0.34', 'full'],
    ['0.33', 'past'],
  ])('a flat of %s mm where 1 mm deep is planned: %s', (flat, kind) => {
    expect(said(atBoreThread().type(flat))).toMatchObject({
      kind,
      known: chasing(atBoreThread().type(flat)).known,
    });
  });

  test('not chased, chasing, and kept by trial as long as nothing more is cut', () => {
    expect(said(atBoreThread())).toEqual({ kind: 'not-chased' });
    expect(said(strokes(atBoreThread(), 1))).toEqual({ kind: 'chasing' });
    const kept = strokes(atBoreThread(), 2).act('keep');
    expect(said(kept)).toEqual({ kind: 'by-trial' });
    expect(said(strokes(kept, 1))).toEqual({ kind: 'chasing' });
  });

  test('crests that the caliper reads smaller than the spigot are cut, and kept until the next stroke', () => {
    const table = strokes(atSpigotThread(), 2);
    expect(said(table.reads(43.2, 6), 'male')).toEqual({ kind: 'crests-cut', diameter: 43.2, spigot: 43.4 });
    expect(said(table.act('keep'), 'male')).toEqual({ kind: 'crests-kept' });
    expect(said(strokes(table, 1), 'male')).toEqual({ kind: 'chasing' });
    expect(jobOf(table).spigot).toMatchObject({ diameter: 43.2, turned: 43.4 });
    expect(table.entries.at(-2)?.readings.length).toBeGreaterThan(0);
  });

  test.each([
    // two steps are 0.02 mm and the caliper's error 0.03 mm; halfway down to the bore of 42.3 is 42.85
    [43.38, false],
    [43.36, true],
    [42.86, true],
    [42.84, false],
  ])('of a spigot of 43.40 mm a reading of %d mm is of its crests: %j', (size, cut) => {
    const table = strokes(atSpigotThread(), 2).reads(size, 6);
    expect(said(table, 'male').kind).toBe(cut ? 'crests-cut' : 'chasing');
  });

  test('the flat at the planned depth is what a groove as deep leaves of the pitch, and never below nothing', () => {
    const form = { pitch: PITCH, angle: degrees(60), tip: { kind: 'sharp' } } as const;
    expect(chasing(atBoreThread()).flatAtPlan).toBeCloseTo(
      PITCH - grooveWidth(mm(1), form.tip, form.angle),
      9,
    );
    const deep = new Table({ ...byHand, depth: { female: mm(1.5), male: mm(1) } }).to('bore thread');
    expect(chasing(deep).flatAtPlan).toBe(0);
  });

  test('typed crests carry the reading that was typed, and a stroke taken back is said', () => {
    const table = strokes(atSpigotThread(), 1).type('43.2');
    expect(table.lastFact).toMatchObject({ kind: 'crests-measured', how: 'typed', diameter: 43.2 });
    expect(table.entries.at(-1)?.readings).toMatchObject([{ text: '43.2', raw: '' }]);
    expect(back(table).bench.notice).toEqual({ kind: 'undone', what: 'stroke' });
  });

  test('a key takes back the last stroke of its own part', () => {
    const table = strokes(strokes(atBoreThread(), 2).to('spigot thread'), 1);
    back(table.to('bore thread'));
    expect([jobOf(table).threads.female.strokes, jobOf(table).threads.male.strokes]).toEqual([1, 1]);
  });
});

describe('at the bench', () => {
  test('a key counts a stroke, another takes it back, and button 2 counts as well', () => {
    const table = strokes(atBoreThread(), 3);
    expect(jobOf(table).threads.female.strokes).toBe(3);
    expect(jobOf(back(table)).threads.female.strokes).toBe(2);
    expect(jobOf(table.act('again')).threads.female.strokes).toBe(3);
    back(back(back(table)));
    expect(jobOf(table).threads.female.strokes).toBe(0);
    expect(refusalOf(back(table))).toEqual({ kind: 'nothing-to-undo' });
    expect(jobOf(table).threads.male.strokes).toBe(0);
  });

  test('undo takes back a stroke, a flat and a crest, one by one', () => {
    const table = strokes(atSpigotThread(), 2).type('0.4').type('43.1');
    expect(jobOf(table).spigot).toMatchObject({ diameter: 43.1, turned: 43.4 });
    table.do({ kind: 'undo-asked' });
    expect(jobOf(table).spigot?.diameter).toBe(43.4);
    table.do({ kind: 'undo-asked' });
    expect(jobOf(table).threads.male.chased).toBeNull();
    table.do({ kind: 'undo-asked' });
    expect(jobOf(table).threads.male.strokes).toBe(1);
  });

  test('before any depth is measured strokes say nothing of depth, and none is planned from them', () => {
    const table = strokes(atBoreThread(), 9);
    expect(chasing(table)).toMatchObject({
      strokes: 9,
      known: null,
      about: null,
      left: null,
      state: { kind: 'chasing' },
    });
    table.act('keep');
    expect(lastFact(table)).toEqual({
      kind: 'thread-chased',
      part: 'female',
      strokes: 9,
      how: 'trial',
      depth: null,
      within: null,
    });
    expect(chasing(table)).toMatchObject({
      known: null,
      about: null,
      left: null,
      state: { kind: 'by-trial' },
    });
  });

  test('a flat is the depth; strokes after it come to a depth with more doubt, kept as such', () => {
    const table = strokes(atBoreThread(), 10).type('0,9');
    const depth = (PITCH - 0.9) / (2 * Math.tan(Math.PI / 6));
    expect(lastFact(table)).toMatchObject({
      kind: 'thread-chased',
      how: 'flat',
      strokes: 10,
      flat: 0.9,
      depth: expect.closeTo(depth, 9),
    });
    const at = chasing(table);
    expect(at).toMatchObject({ state: { kind: 'shallow' }, known: { depth: expect.closeTo(depth, 9) } });
    expect(at.left?.about).toBe(Math.ceil(10 * (1 / depth - 1)));
    strokes(table, 2);
    expect(chasing(table)).toMatchObject({
      known: null,
      about: { depth: expect.closeTo(depth * 1.2, 9) },
      state: { kind: 'chasing' },
    });
    table.act('keep');
    expect(lastFact(table)).toMatchObject({
      how: 'strokes',
      strokes: 12,
      depth: expect.closeTo(depth * 1.2, 9),
    });
    expect(chasing(table).known?.within).toBeGreaterThan(at.known?.within ?? 9);
  });

  test('strokes that may have brought the crest to a point give no depth: look at the flat', () => {
    const table = strokes(strokes(atBoreThread(), 10).type('0.4'), 4).act('keep');
    expect(lastFact(table)).toMatchObject({ how: 'trial', depth: null });
  });

  test('strokes say nothing after chasing that was not counted', () => {
    const table = strokes(atBoreThread(), 10).type('0.9');
    table.to('trial').type('2').to('bore thread').act('keep');
    expect(lastFact(table)).toMatchObject({ how: 'trial', strokes: 10 });
    strokes(table, 2);
    expect(chasing(table)).toMatchObject({ about: null, left: null });
    table.type('0.7');
    expect(chasing(table).left).toBeNull();
  });

  test('Enter keeps a thread once, however often it is pressed, and again after a trial', () => {
    const table = strokes(atBoreThread(), 4).act('keep', 'keep', 'keep');
    const kept = () => table.entries.filter(({ fact }) => fact.kind === 'thread-chased').length;
    expect(kept()).toBe(1);
    table.to('trial').type('2').to('bore thread').act('keep', 'keep');
    expect(kept()).toBe(2);
    expect(jobOf(table).trials.at(-1)?.reworked).toBe(true);
  });

  test('a stroke after a trial makes its word void; a flat looked at does not', () => {
    const table = atSpigotThread().type('0.6').to('trial').type('2').to('spigot thread').type('0.6');
    expect(jobOf(table).trials.at(-1)?.reworked).toBe(false);
    expect(jobOf(strokes(table, 1)).trials.at(-1)?.reworked).toBe(true);
    expect(jobOf(back(table)).trials.at(-1)?.reworked).toBe(false);
  });

  test.each(['1.6', '-0.1', '42.3', 'deep', '1.58mm and more'])(
    'a flat of %j is refused, and nothing is kept',
    (text) => {
      const table = atBoreThread().type(text);
      expect(refusalOf(table)).toMatchObject({ kind: 'bad-number', found: text });
      expect(jobOf(table).threads.female.chased).toBeNull();
    },
  );

  test('a closed job takes no stroke, nor one back', () => {
    const table = strokes(atBoreThread(), 2).to('record').act('keep').to('bore thread');
    const entries = table.entries.length;
    for (const by of [1, -1] as const)
      expect(refusalOf(table.do({ kind: 'detent-keyed', by }))).toEqual({ kind: 'closed' });
    expect(table.entries).toHaveLength(entries);
  });

  test('nothing asks for a feed: a board that counts one is no matter, and no count is touched off', () => {
    const table = new Table(byHand).board(3).to('bore thread').feed(4).act('keep');
    expect(table.entries.map(({ fact }) => fact.kind)).not.toContain('touched-off');
    expect(chasing(table).state.kind).toBe('by-trial');
  });
});

describe('over the crests', () => {
  test('a spigot that measures as turned says that its crests are whole, and of its depth nothing', () => {
    for (const typed of ['43.4', '43.38', '43.44']) {
      const table = atSpigotThread().type(typed);
      expect(refusalOf(table)).toMatchObject({ kind: 'crests-whole', spigot: 43.4 });
      expect(jobOf(table).spigot?.diameter).toBe(43.4);
    }
  });

  test('a smaller one is the spigot from now on, typed or read; its depth waits for the flat', () => {
    const table = strokes(atSpigotThread(), 20).type('43.1');
    expect(lastFact(table)).toMatchObject({ kind: 'crests-measured', diameter: 43.1, how: 'typed' });
    expect(chasing(table, 'male')).toMatchObject({ known: null });
    const read = strokes(atSpigotThread(), 20).reads(43.1, 6).act('keep');
    expect(lastFact(read)).toMatchObject({ kind: 'crests-measured', diameter: 43.1, how: 'read' });
    expect(read.entries.at(-1)?.readings.length).toBeGreaterThan(2);
  });

  test('a reading that is not of its crests leaves Enter to the thread', () => {
    // 42.30 is the bore, left in the jaws.
    for (const value of [43.4, 42.3, 0.01, 20, 60]) {
      const table = strokes(atSpigotThread(), 20).reads(value, 6).act('keep');
      expect(lastFact(table)).toMatchObject({ kind: 'thread-chased', how: 'trial' });
    }
  });

  test('without a spigot there is nothing to compare with', () => {
    const table = new Table(byHand).to('spigot thread').type('43.1');
    expect(refusalOf(table)).toEqual({ kind: 'missing', what: 'spigot' });
  });

  test('kept, they ask for the flat, until it is typed or more is chased', () => {
    const table = strokes(atSpigotThread(), 20).type('43.1');
    expect(chasing(table, 'male').state.kind).toBe('crests-kept');
    expect(chasing(strokes(table, 1), 'male').state.kind).toBe('chasing');
    expect(chasing(back(table).type('0.1'), 'male').state.kind).not.toBe('crests-kept');
  });

  test('a size far off is asked about before it is kept', () => {
    for (const far of ['34.1', '42.3']) {
      const { bench } = atSpigotThread().type(far);
      expect(bench.notice).toMatchObject({ kind: 'question', ask: { kind: 'odd-size' } });
    }
    const table = atSpigotThread().type('34.1');
    expect(table.bench.notice).toMatchObject({ kind: 'question', ask: { kind: 'odd-size' } });
    expect(jobOf(table).spigot?.diameter).toBe(43.4);
  });
});

describe('claims about the fit', () => {
  const claims = (table: Table) => {
    const job = jobOf(table);
    const spigot = job.spigot?.diameter ?? mm(43.4);
    return [
      expectedOf(job, { diameter: spigot }).kind,
      trialChances(job, { diameter: spigot }),
      clearanceInDoubt(job),
    ];
  };

  test('is nothing until both depths are measured, and nothing after further strokes', () => {
    const table = strokes(atSpigotThread(), 12);
    expect(claims(table)).toEqual(['unmeasured', null, null]);
    table.type('0.6');
    const [kind, chances, doubt] = claims(table);
    expect(kind).toBe('expected');
    expect(chances).not.toBeNull();
    // Both flats by eye: each depth within 0.087 mm, each twice in the clearance.
    expect(doubt).toMatchObject({
      shares: expect.arrayContaining([{ name: 'thread depth in the bore', share: expect.any(Number) }]),
    });
    expect(JSON.stringify(doubt)).not.toContain('touch-off');
    expect(claims(strokes(table, 1))).toEqual(['unmeasured', null, null]);
    expect(claims(table.act('keep'))[0]).toBe('expected');
  });

  test('waits for the size over the crests where those came to a point', () => {
    const table = atSpigotThread();
    strokes(table, 5).type('0');
    expect(claims(table)[0]).toBe('unmeasured');
    table.type('43.2');
    expect(claims(table)[0]).toBe('expected');
    const expected = expectedOf(jobOf(table), { diameter: mm(43.2) });
    expect(expected).toMatchObject({ fit: { allowance: expect.closeTo(0.9, 9) } });
  });

  test('a trial of an unmeasured depth teaches nothing', () => {
    const table = atSpigotThread();
    strokes(table, 5).act('keep').to('trial').type('2');
    expect(lastFact(table)).toEqual({
      kind: 'trial-made',
      verdict: 'tight',
      clearance: null,
      standard: null,
    });
  });

  test('after a tight trial strokes are advised, with their number where it can be told', () => {
    const unknown = strokes(atSpigotThread(), 5).act('keep').to('trial').type('2');
    expect(adviceOn(jobOf(unknown))).toEqual([{ kind: 'chase' }, { kind: 'relieve-crests', part: 'male' }]);
    const known = strokes(atSpigotThread('43.5'), 12).type('0.5').to('trial').type('2');
    expect(adviceOn(jobOf(known))[0]).toMatchObject({
      kind: 'deepen',
      part: 'male',
      detents: null,
      by: expect.closeTo(0.15, 9),
      strokes: 2,
    });
  });

  test('a spigot kept before its thread says that its fit is as planned only', () => {
    const table = atSpigotThread();
    expect(jobOf(table).spigot).toMatchObject({ asPlanned: true });
    expect(table.entries.find(({ fact }) => fact.kind === 'target-set')?.fact).toMatchObject({
      asPlanned: true,
    });
    expect(
      new Table().to('bore size').type('42.3').act('keep').to('spigot').type('43.4').act('keep', 'keep').bench
        .job?.spigot,
    ).not.toHaveProperty('asPlanned');
  });
});
