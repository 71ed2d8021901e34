// The threads of a job: how deep one chased by hand is, what is left to cut, and the limit once it is cut.
import { describe, expect, test } from 'vitest';
import type { Job, Thread } from '../../src/core/bench/job.ts';
import {
  chasedDepth,
  chasedText,
  isUnmeasured,
  leftToCut,
  limitOnceCut,
  pairOf,
  wantsDiameter,
} from '../../src/core/bench/threads.ts';
import { mm } from '../../src/core/units.ts';
import { played, threaded } from '../support/bench.ts';

const { job: begun } = played('');

describe('a thread chased by hand', () => {
  const chased = {
    kind: 'thread-chased',
    part: 'female',
    how: 'flat',
    strokes: 3,
    depth: mm(1),
    within: mm(0.05),
    flat: mm(0.2),
  } as const;
  const { flat, ...byCrests } = chased;
  const thread = (change: Partial<Thread>): Thread => ({
    ...begun.threads.female,
    strokes: 3,
    chased,
    ...change,
  });

  test.each([
    [chased, '1.00 ± 0.05 mm deep, by a flat of 0.20 mm, 3 strokes'],
    [{ ...chased, strokes: 0 }, '1.00 ± 0.05 mm deep, by a flat of 0.20 mm'],
    [{ ...byCrests, strokes: 1 }, '1.00 ± 0.05 mm deep, by flat, 1 stroke'],
    [{ ...chased, how: 'trial', depth: null }, 'by trial, depth not measured, 3 strokes'],
    [{ ...chased, how: 'trial', within: null, strokes: 0 }, 'by trial, depth not measured'],
  ] as const)('%j says how deep it is', (kept, said) => {
    expect(chasedText(kept, 'mm')).toBe(said);
  });

  test('is known only as long as no stroke followed, and both figures are', () => {
    expect(chasedDepth(thread({}))).toEqual({ depth: 1, within: 0.05 });
    const unknown = [{ depth: null }, { within: null }].map((none) => ({ chased: { ...chased, ...none } }));
    for (const change of [{ strokes: 4 }, { chased: null }, ...unknown])
      expect(chasedDepth(thread(change))).toBeNull();
  });

  const pointed = { ...chased, flat: mm(0) };
  test.each<[Partial<Thread>, boolean]>([
    [{}, false],
    [{ chased: pointed }, true],
    [{ chased: pointed, crestsAt: 2 }, true],
    [{ chased: pointed, crestsAt: 3 }, false],
    [{ chased: pointed, strokes: 4 }, false],
    [{ chased: byCrests }, false],
  ])('that came to a point wants its diameter again, one with a flat does not: %j', (change, wants) => {
    expect(wantsDiameter(thread(change))).toBe(wants);
  });

  const both = { female: thread({}), male: thread({}) };
  test.each<[object, Job['threads'], boolean]>([
    [{ byHand: true }, both, false],
    [{ byHand: true }, { ...both, male: thread({ strokes: 9 }) }, true],
    [{ byHand: true }, { ...both, female: thread({ chased: null }) }, true],
    [{ byHand: true, fit: 'plain' }, begun.threads, false],
    [{}, begun.threads, false],
  ])(
    'leaves the fit unmeasured until both threads are, and only where a lid has one',
    (change, threads, is) => {
      expect(isUnmeasured({ ...begun, setup: { ...begun.setup, ...change }, threads })).toBe(is);
    },
  );

  test('is not widened as a rotating cutter widens it', () => {
    const setup = { ...threaded, cutter: { ...threaded.cutter, diameter: mm(30) } };
    const job = { ...played('', setup).job, setup };
    expect(pairOf(job, mm(42)).female.widening).toBeGreaterThan(0);
    expect(pairOf({ ...job, setup: { ...setup, byHand: true } }, mm(42)).female.widening).toBe(0);
    expect(pairOf(begun, mm(42)).female.widening).toBe(0);
  });
});

test.each([
  [0.9, 0.1],
  [1.1, -0.1],
  [0.996, 0],
  [1.004, 0],
])('what is left to cut shows from 0.005 mm on, either way: at %d mm %d mm', (depth, left) => {
  expect(leftToCut(begun, 'male', mm(depth))).toBeCloseTo(left, 9);
});

test('the limit once a thread is cut is the planned one, or that of a deeper groove', () => {
  const job = begun;
  // sharp 60 degree threads of 16 TPI, 1 mm deep each: 4 x 1 mm less 2 H; a tenth deeper adds two
  const planned = 4 - 2 * (25.4 / 16) * (Math.sqrt(3) / 2);
  expect(limitOnceCut(job, mm(42), 'male', mm(0.5))).toBeCloseTo(planned, 9);
  expect(limitOnceCut(job, mm(42), 'male', mm(1.1))).toBeCloseTo(planned + 0.2, 9);
  expect(limitOnceCut(job, mm(42), 'male', mm(1.5))).toBeNull();
});
