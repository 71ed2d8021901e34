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
import { played, type Table, threaded } from '../support/bench.ts';
import { asks, keeps, near, no, type Seen, story } from '../support/story.ts';

const { feed: _, ...unfed } = threaded;
const byHand: Setup = { ...unfed, byHand: true };
const PITCH = byHand.pitch.length;
const by = (script: string) => played(script, byHand);
const BORE = '@bore-thread';
/** Bore thread measured by its flat, bore and spigot kept, at the spigot's thread. */
const spigotOf = (size: string) =>
  `${BORE} =0.5 @bore-size =42.3 keep @spigot =${size} keep keep @spigot-thread`;
const SPIGOT = spigotOf('43.4');
const chasing = (table: Table) =>
  chasingOf(table.ready, table.job.stage === 'spigot thread' ? 'male' : 'female');
const threads = ({ job }: Table) => job.threads;

describe('the depth that a flat shows', () => {
  const size = (max: number) => fc.double({ min: 0.01, max, noNaN: true }).map(mm);
  const tip = fc.oneof(
    fc.constant({ kind: 'sharp' } as const),
    size(0.3).map((width) => ({ kind: 'flat', width }) as const),
    size(0.2).map((radius) => ({ kind: 'radius', radius }) as const),
  );
  const sharp = { pitch: mm(1.5), angle: degrees(60), tip: { kind: 'sharp' } } as const;

  test('is the groove that leaves that flat, for every form', () => {
    const forms = fc.double({ min: 20, max: 90, noNaN: true }).map(degrees);
    fc.assert(
      fc.property(tip, forms, fc.double({ min: 0.001, max: 2, noNaN: true }), (of, angle, depth) => {
        expect(grooveDepth(grooveWidth(mm(depth), of, angle), of, angle)).toBeCloseTo(depth, 9);
      }),
    );
  });

  test('is known within the accuracy of the eye: at 60 degrees 0.87 of it', () => {
    const at = depthFromFlat(sharp, mm(0.5));
    expect(at?.depth).toBeCloseTo(0.866, 3);
    expect(at?.within).toBeCloseTo(FLAT_BY_EYE * Math.cos(Math.PI / 6), 3);
  });

  test('of a crest that looks like a point is full depth less what the eye may miss, and leaves a crest', () => {
    const at = depthFromFlat(sharp, mm(0));
    expect(at && at.depth + at.within).toBeCloseTo(sharpHeight(sharp.pitch, sharp.angle), 9);
    expect(crestLeft(sharp.pitch, at?.depth ?? mm(9), sharp.tip, sharp.angle)).toBeGreaterThan(0);
  });

  test('is none where the flat is the whole pitch, or what the tip alone leaves', () => {
    const form = { ...sharp, tip: { kind: 'flat', width: mm(0.2) } } as const;
    const isKnown = [1.5, 1.3, 1.29].map((flat) => depthFromFlat(form, mm(flat)) !== null);
    expect(isKnown).toEqual([false, false, true]);
  });
});

describe('strokes', () => {
  const measured = { strokes: 12, depth: mm(0.6), within: mm(0.09) };

  test.each([
    // From the depth measured, as a range over its doubt.
    [measured, 12, { about: 8, from: 5, to: 12 }],
    [measured, 15, { about: 5, from: 2, to: 9 }],
    [measured, 30, { about: 0, from: 0, to: 0 }],
    // Not guessed from a scratch that may be nothing, or where none was counted.
    [{ strokes: 3, depth: mm(0.08), within: mm(0.09) }, 3, null],
    [{ ...measured, strokes: 0 }, 0, null],
  ])('left by %j after %d: %j', (of, made, left) => expect(strokesLeft(of, made, mm(1))).toEqual(left));

  test('since the measurement add their depth, and more doubt the more they are', () => {
    expect(depthAfter(measured, 12)).toEqual({ depth: near(0.6), within: near(0.09) });
    // The flat's doubt by 16/12, and four strokes that differ by up to half of 0.05 mm each.
    const within = near(0.09 * (16 / 12) + 0.5 * 0.05 * 2);
    expect(depthAfter(measured, 16)).toEqual({ depth: near(0.8), within });
  });
});

describe('at the thread', () => {
  const depth = (PITCH - 0.9) / (2 * Math.tan(Math.PI / 6));
  const nothing = { known: null, about: null, left: null };
  const state = (kind: string, more: object = {}) => ({ state: { kind, ...more } });

  test.each<[string, object]>([
    // A flat f is (25.4 / 16 - f) cos 30 deep, by eye within 0.1 mm of f: 0.087 mm of depth; 1 mm is planned.
    [`${BORE} =0.54`, state('shallow')],
    [`${BORE} =0.53`, state('full')],
    [`${BORE} =0.34`, state('full')],
    [`${BORE} =0.33`, state('past')],
    [
      BORE,
      { ...state('not-chased'), flatAtPlan: near(crestLeft(PITCH, mm(1), { kind: 'sharp' }, degrees(60))) },
    ],
    // Before any depth is measured strokes say nothing of depth, and none is planned from them.
    [`${BORE} +9`, { ...state('chasing'), ...nothing, strokes: 9 }],
    [`${BORE} +9 keep`, { ...state('by-trial'), ...nothing }],
    [`${BORE} +9 keep +`, state('chasing')],
    // Strokes after a flat come to a depth with more doubt.
    [
      `${BORE} +10 =0,9`,
      { ...state('shallow', { known: { depth: near(depth) } }), known: { depth: near(depth) } },
    ],
    [`${BORE} +10 =0,9`, { left: { about: Math.ceil(10 * (1 / depth - 1)) } }],
    [`${BORE} +10 =0,9 +2`, { ...state('chasing'), known: null, about: { depth: near(depth * 1.2) } }],
    // They say nothing after chasing that was not counted.
    [`${BORE} +10 =0.9 @trial =2 ${BORE} keep +2`, { about: null, left: null }],
    [`${BORE} +10 =0.9 @trial =2 ${BORE} keep +2 =0.7`, { left: null }],
    // Crests that the caliper reads smaller than the spigot are cut, and kept until the next stroke.
    [`${SPIGOT} +2 43.2x6`, state('crests-cut', { diameter: 43.2, spigot: 43.4 })],
    [`${SPIGOT} +2 43.2x6 keep`, state('crests-kept')],
    [`${SPIGOT} +2 43.2x6 keep +`, state('chasing')],
    [`${SPIGOT} +2 43.2x6 keep + - =0.1`, state('past')],
    [`${SPIGOT} +20 =43.1`, { ...state('crests-kept'), known: null }],
    // Two steps are 0.02 mm and the caliper's error 0.03 mm; halfway down to the bore of 42.3 is 42.85.
    [`${SPIGOT} +2 43.38x6`, state('chasing')],
    [`${SPIGOT} +2 43.36x6`, state('crests-cut')],
    [`${SPIGOT} +2 42.86x6`, state('crests-cut')],
    [`${SPIGOT} +2 42.84x6`, state('chasing')],
    // Nothing asks for a feed, so a board that counts one changes nothing.
    [`board feed:3 ${BORE} feed:4 keep`, state('by-trial')],
  ])('%s: %j', (script, told) => expect(chasing(by(script))).toMatchObject(told));

  test('a planned depth beyond the crest leaves no flat', () => {
    const deep = { ...byHand, depth: { female: mm(1.5), male: mm(1) } };
    expect(chasing(played(BORE, deep)).flatAtPlan).toBe(0);
  });

  test('by strokes it is known less well than by the flat', () => {
    const within = (script: string) => Number(chasing(by(`${BORE} +10 =0,9 ${script}`)).known?.within);
    expect(within('+2 keep')).toBeGreaterThan(within(''));
  });

  const byTrial = { part: 'female', how: 'trial', depth: null, within: null };
  const crests = (how: string) => keeps('crests-measured', { diameter: near(43.1), how });
  const whole = { ...no('crests-whole', { spigot: 43.4 }), spigot: 43.4 };
  test.each<[string, Seen]>([
    [`${BORE} +9 keep`, keeps('thread-chased', { ...byTrial, strokes: 9 })],
    [`${BORE} +10 =0,9`, keeps('thread-chased', { how: 'flat', strokes: 10, flat: 0.9, depth: near(depth) })],
    [
      `${BORE} +10 =0,9 +2 keep`,
      keeps('thread-chased', { how: 'strokes', strokes: 12, depth: near(depth * 1.2) }),
    ],
    // Strokes that may have brought the crest to a point give no depth: look at the flat.
    [`${BORE} +10 =0.4 +4 keep`, keeps('thread-chased', byTrial)],
    [`${BORE} +10 =0.9 @trial =2 ${BORE} keep`, keeps('thread-chased', { ...byTrial, strokes: 10 })],
    [
      `${BORE} =1.6`,
      { ...no('bad-number', { found: '1.6' }), kinds: expect.not.arrayContaining(['thread-chased']) },
    ],
    [`${BORE} =-0.1`, no('bad-number', { found: '-0.1' })],
    [`${BORE} =42.3`, no('bad-number', { found: '42.3' })],
    [`${BORE} =deep`, no('bad-number', { found: 'deep' })],
    [`${BORE} +2 @record keep ${BORE} +`, no('closed')],
    [`${BORE} +2 @record keep ${BORE} -`, no('closed')],
    [`${BORE} -`, no('nothing-to-undo')],
    [`${BORE} + -`, { notice: { kind: 'undone', what: 'stroke' } }],
    [`board ${BORE} keep`, { kinds: expect.not.arrayContaining(['touched-off']) }],
    // A spigot that measures as turned says that its crests are whole, and of its depth nothing.
    [`${SPIGOT} =43.4`, whole],
    [`${SPIGOT} =43.38`, whole],
    [`${SPIGOT} =43.44`, whole],
    // A smaller one is the spigot from now on, typed or read.
    [`${SPIGOT} +20 =43.1`, { ...crests('typed'), spigot: near(43.1) }],
    [`${SPIGOT} +20 43.1x6 keep`, { ...crests('read'), spigot: near(43.1) }],
    // One far off is asked about before it is kept; 42.30 is the bore, left in the jaws.
    [`${SPIGOT} =34.1`, { ...asks('odd-size', { found: 34.1, expected: 43.4 }), spigot: 43.4 }],
    [`${SPIGOT} =42.3`, asks('odd-size')],
    // A reading that isn't of its crests leaves Enter to the thread.
    [`${SPIGOT} +20 43.4x6 keep`, keeps('thread-chased', { how: 'trial' })],
    [`${SPIGOT} +20 42.3x6 keep`, keeps('thread-chased', { how: 'trial' })],
    [`${SPIGOT} +20 60x6 keep`, keeps('thread-chased', { how: 'trial' })],
    ['@spigot-thread =43.1', no('missing', { what: 'spigot' })],
  ])('%s', (script, seen) => story(by(script), ['', seen]));

  test('crests carry the readings they were measured by', () => {
    const readings = (script: string) => by(`${SPIGOT} + ${script}`).entries.at(-1)?.readings;
    expect(readings('=43.2')).toMatchObject([{ text: '43.2', raw: '' }]);
    expect(readings('43.2x6 keep')).toHaveLength(6);
  });

  test('one key counts a stroke of this part, another takes it back, and button 2 counts as well', () => {
    const counted = (script: string) => {
      const { female, male } = threads(by(script));
      return [female.strokes, male.strokes];
    };
    expect(counted(`${BORE} +3 - again`)).toEqual([3, 0]);
    expect(counted(`${BORE} +2 @spigot-thread + ${BORE} -`)).toEqual([1, 1]);
  });

  test('undo takes back a stroke, a flat and a crest, one by one', () => {
    const table = by(`${SPIGOT} +2 =0.4 =43.1`);
    expect(table.job.spigot).toMatchObject({ diameter: 43.1, turned: 43.4 });
    expect(table.play('undo').job.spigot?.diameter).toBe(43.4);
    expect(threads(table.play('undo')).male.chased).toBeNull();
    expect(threads(table.play('undo')).male.strokes).toBe(1);
  });

  test('Enter keeps a thread once, however often it is pressed, and again after a trial', () => {
    const table = by(`${BORE} +4 keep keep keep`);
    expect(table.countOf('thread-chased')).toBe(1);
    expect(table.play(`@trial =2 ${BORE} keep keep`).countOf('thread-chased')).toBe(2);
    expect(table.job.trials.at(-1)?.reworked).toBe(true);
  });

  test('a stroke after a trial makes its word void; a flat looked at does not', () => {
    const table = by(`${SPIGOT} =0.6 @trial =2 @spigot-thread =0.6`);
    const isVoid = (script: string) => table.play(script).job.trials.at(-1)?.reworked;
    expect([isVoid(''), isVoid('+'), isVoid('-')]).toEqual([false, true, false]);
  });
});

describe('claims about the fit', () => {
  const claims = ({ job }: Table) => {
    const diameter = job.spigot?.diameter ?? mm(43.4);
    return [expectedOf(job, { diameter }).kind, trialChances(job, { diameter }), clearanceInDoubt(job)];
  };
  const none = ['unmeasured', null, null];

  test('is nothing until both depths are measured, and nothing after further strokes', () => {
    const table = by(`${SPIGOT} +12`);
    expect(claims(table)).toEqual(none);
    const [kind, chances, doubt] = claims(table.play('=0.6'));
    expect([kind, chances === null]).toEqual(['expected', false]);
    // Both flats by eye: each depth within 0.087 mm, each twice in the clearance.
    const shares = expect.arrayContaining([{ name: 'thread depth in the bore', share: expect.any(Number) }]);
    expect(doubt).toMatchObject({ shares });
    expect(JSON.stringify(doubt)).not.toContain('touch-off');
    expect(claims(table.play('+'))).toEqual(none);
    expect(claims(table.play('keep'))[0]).toBe('expected');
  });

  test('waits for the size over the crests where those came to a point', () => {
    const table = by(`${SPIGOT} +5 =0`);
    expect(claims(table)[0]).toBe('unmeasured');
    expect(claims(table.play('=43.2'))[0]).toBe('expected');
    expect(expectedOf(table.job, { diameter: mm(43.2) })).toMatchObject({ fit: { allowance: near(0.9) } });
  });

  test('after a tight trial strokes are advised, with their number where it can be told', () => {
    const unknown = by(`${SPIGOT} +5 keep @trial =2`);
    // It teaches nothing.
    expect(unknown.lastFact).toEqual({
      kind: 'trial-made',
      verdict: 'tight',
      clearance: null,
      standard: null,
    });
    expect(adviceOn(unknown.job)).toEqual([{ kind: 'chase' }, { kind: 'relieve-crests', part: 'male' }]);
    const [first] = adviceOn(by(`${spigotOf('43.5')} +12 =0.5 @trial =2`).job);
    expect(first).toMatchObject({ kind: 'deepen', part: 'male', detents: null, by: near(0.15), strokes: 2 });
  });

  test('a spigot kept before its thread says that its fit is as planned only', () => {
    const { job, entries } = by(SPIGOT);
    expect(job.spigot).toMatchObject({ asPlanned: true });
    const target = entries.find(({ fact }) => fact.kind === 'target-set');
    expect(target?.fact).toMatchObject({ asPlanned: true });
    expect(played('=42.3 keep next =43.4 keep').job.spigot).not.toHaveProperty('asPlanned');
  });
});
