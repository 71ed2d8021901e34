// Passes: whole detents, roughing to one short, hardening before the last, and the limit of what was really cut.
import { expect, test } from 'vitest';
import { limitsOf } from '../../src/core/thread/fit.ts';
import {
  type PassesWanted,
  passesRefusalText,
  planPasses,
  wantedDepth,
} from '../../src/core/thread/passes.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { ofKind } from '../support/of-kind.ts';

const wanted: PassesWanted = {
  pitch: tpi(16),
  starts: 1,
  angle: degrees(60),
  tip: { kind: 'sharp' },
  feedPerDetent: mm(0.2),
  profile: 'deepest',
  harden: true,
};

function plan(change: Partial<PassesWanted> = {}) {
  return ofKind('passes', planPasses({ ...wanted, ...change }));
}

test('16 TPI by detents of 0.2 mm: five, roughed to four, hardened there, finished by the last', () => {
  const passes = plan();
  expect(passes.detents).toBe(5);
  expect(passes.depth).toBeCloseTo(1, 12);
  expect(passes.wantedDepth).toBeCloseTo(0.97383, 5);
  expect(passes.rough.map((pass) => pass.detents)).toEqual([1, 2, 3, 4]);
  expect(passes.hardenAt).toMatchObject({ detents: 4 });
  expect(passes.finish).toMatchObject({ detents: 5 });
});

test('a wood that needs no hardening has no stop for it', () => {
  expect(plan({ harden: false }).hardenAt).toBeNull();
});

test('a fine feed roughs several detents a pass, never more than allowed, and still ends one short', () => {
  const passes = plan({ feedPerDetent: mm(0.03) });
  expect(passes.detents).toBe(32);
  expect(passes.rough.map((pass) => pass.detents)).toEqual([8, 16, 24, 31]);
  const light = plan({ feedPerDetent: mm(0.03), mostPerPass: mm(0.1) });
  expect(light.rough.length).toBe(11);
  expect(light.rough.at(-1)).toMatchObject({ detents: 31 });
});

test('a pass of three detents is three, in spite of binary fractions', () => {
  const passes = plan({ feedPerDetent: mm(0.1), mostPerPass: mm(0.3) });
  expect(passes.rough.map((pass) => pass.detents)).toEqual([3, 6, 9]);
  expect(passes.finish.detents).toBe(10);
});

test('a depth that whole detents cannot cut with this nose is refused', () => {
  const nose = { kind: 'radius', radius: mm(0.4) } as const;
  const refused = planPasses({ ...wanted, tip: nose, profile: mm(0.22), feedPerDetent: mm(0.09) });
  expect(refused).toMatchObject({ kind: 'no-flank', depth: 0.18 });
});

test('the limit is of the depth really cut, not of the wanted one', () => {
  const passes = plan();
  const groove = { depth: passes.depth, tip: wanted.tip };
  const { pitch, starts, angle } = wanted;
  expect(passes.limits).toEqual(limitsOf({ pitch, starts, angle, female: groove, male: groove }));
  expect(passes.limits.limit).toBeCloseTo(1.25037, 5);
});

test('the basic profile is shallower, a tip takes its loss off, and a depth that was given is used', () => {
  expect(wantedDepth({ ...wanted, profile: 'basic' })).toBeCloseTo(0.85926, 5);
  expect(wantedDepth({ ...wanted, tip: { kind: 'radius', radius: mm(0.1) } })).toBeCloseTo(0.87383, 5);
  expect(plan({ profile: mm(0.83) })).toMatchObject({ detents: 4, wantedDepth: 0.83 });
});

test('a count that would eat the crest is one less', () => {
  expect(plan({ profile: mm(1.36), feedPerDetent: mm(0.46) }).detents).toBe(2);
});

test.each([
  [{ feedPerDetent: mm(0.7) }, 'feed-too-coarse', /at most 0.487 mm a detent/],
  [{ feedPerDetent: mm(0) }, 'not-positive', /feed per detent is 0/],
  [{ feedPerDetent: mm(Number.NaN) }, 'not-positive', /feed per detent/],
  [{ mostPerPass: mm(-1) }, 'not-positive', /roughing pass/],
  [{ pitch: mm(1e9) }, 'too-many-passes', /up to 1000 can be planned. Take a finer pitch/],
  [{ tip: { kind: 'radius', radius: mm(1) } }, 'tip-too-large', /only 0.974 mm. Take a sharper cutter/],
  [{ profile: mm(1.5) }, 'crest-eaten', /Cut less than 1.375 mm/],
  [{ profile: mm(-1) }, 'not-positive', /depth is -1/],
  [{ pitch: mm(0) }, 'not-positive', /is 0/],
] as const)('%o is refused as %s', (change, kind, sentence) => {
  const refused = planPasses({ ...wanted, ...change });
  expect(refused.kind).toBe(kind);
  if (refused.kind !== 'passes') expect(passesRefusalText(refused)).toMatch(sentence);
});
