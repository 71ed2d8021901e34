// Facts of the trade, with no source but practice: for which depth, tip, feed and clearance geometry agrees with them, and where not.
// They are figures to test with, not defaults of the program.
import { type Fit, fitOf, targetSpigot } from '../../../src/core/thread/fit.ts';
import type { Tip } from '../../../src/core/thread/form.ts';
import { limitsOf } from '../../../src/core/thread/limits.ts';
import type { Pair } from '../../../src/core/thread/pair.ts';
import { type Passes, planPasses, wantedDepth } from '../../../src/core/thread/passes.ts';
import { degrees, type Length, mm, tpi } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';

export const count = 14;

const practice = { source: 'common practice, no source', status: 'COMMON PRACTICE' } as const;
const sharp: Tip = { kind: 'sharp' };
const bore = mm(50);
const clearance = mm(0.15);

const pairOf = (threads: number, depth: number): Pair => ({
  pitch: tpi(threads),
  starts: 1,
  angle: degrees(60),
  female: { depth: mm(depth), tip: sharp },
  male: { depth: mm(depth), tip: sharp },
});

/** Spigot over bore for the usual clearance, both parts cut this deep by a sharp 60-degree cutter. */
function allowance(threads: number, depth: number): number {
  const target = targetSpigot(pairOf(threads, depth), bore, clearance);
  return target.kind === 'target' ? target.allowance : Number.NaN;
}

const limit = (threads: number, depth: number): number => {
  const limits = limitsOf(pairOf(threads, depth));
  return limits.kind === 'limits' ? limits.limit : Number.NaN;
};

/** The clearance that a spigot this much over the bore leaves. */
function left(threads: number, depth: number, over: number): number {
  const fit: Fit | { kind: string } = fitOf(pairOf(threads, depth), bore, mm(bore + over));
  return 'clearance' in fit ? fit.clearance : Number.NaN;
}

const scaled = 16 / 14;
const deepest14 = wantedDepth({ pitch: tpi(14), angle: degrees(60), tip: sharp, profile: 'deepest' });

function allowances(): readonly Check[] {
  const about = { ...practice, allowed: 0.05, why: '"about": half of the last digit said' };
  return [
    {
      ...about,
      what: '16 TPI, spigot over bore [mm]: both 1.0 mm deep, sharp, 0.15 mm clearance',
      expected: 1.1,
      ours: allowance(16, 1),
    },
    {
      what: '16 TPI, limit [mm]: both 1.0 mm deep, sharp',
      source: 'by hand: 4 x 1.0 - 2 x 1.3748',
      status: 'DERIVED',
      expected: 1.25,
      ours: limit(16, 1),
      allowed: 0.005,
      why: 'half of the last digit said',
    },
    {
      ...about,
      what: '14 TPI, spigot over bore [mm]: both as deep in proportion (1.143 mm), sharp, 0.15 mm clearance',
      expected: 1.6,
      ours: allowance(14, scaled),
      knownMiss: 'the same thread in proportion allows 1.28 mm only: 1.6 mm would seize by 0.17 mm',
    },
    {
      ...about,
      what: '14 TPI, spigot over bore [mm]: both 17/24 H deep (1.113 mm), sharp, 0.15 mm clearance',
      expected: 1.6,
      ours: allowance(14, deepest14),
      knownMiss: 'the deepest ordinary profile allows less still',
    },
    {
      ...about,
      what: '14 TPI, spigot over bore [mm]: both 1.22 mm deep, sharp, 0.15 mm clearance',
      expected: 1.6,
      ours: allowance(14, 1.22),
    },
    {
      ...about,
      what: '14 TPI, clearance left by 1.6 mm over at 1.22 mm deep [mm]',
      expected: 0.15,
      ours: left(14, 1.22, 1.6),
    },
    {
      ...about,
      what: '16 TPI, clearance left by 1.1 mm over at five detents of 0.2 mm [mm]',
      expected: 0.15,
      ours: left(16, 5 * 0.2, 1.1),
    },
  ];
}

function passes(threads: number, tip: Tip, feedPerDetent: Length): Passes {
  const plan = planPasses({
    pitch: tpi(threads),
    starts: 1,
    angle: degrees(60),
    tip,
    feedPerDetent,
    profile: 'deepest',
    harden: true,
  });
  if (plan.kind !== 'passes') throw new Error(plan.kind);
  return plan;
}

function detents(): readonly Check[] {
  const of = { ...practice, allowed: 0, why: 'a count agrees or does not' };
  const nose: Tip = { kind: 'radius', radius: mm(0.15) };
  const [coarse, fine] = [mm(0.2), mm(0.181)];
  return [
    {
      ...of,
      what: '16 TPI, detents to full depth: sharp cutter, 0.2 mm a detent',
      expected: 5,
      ours: passes(16, sharp, coarse).detents,
    },
    {
      ...of,
      what: '20 TPI, detents to full depth: sharp cutter, 0.2 mm a detent',
      expected: 3,
      ours: passes(20, sharp, coarse).detents,
      knownMiss: 'depths go as 4 to 5, counts as 3 to 5: with a sharp cutter no one feed gives both',
    },
    {
      ...of,
      what: '16 TPI, detents to full depth: nose 0.15 mm, 0.181 mm a detent',
      expected: 5,
      ours: passes(16, nose, fine).detents,
    },
    {
      ...of,
      what: '20 TPI, detents to full depth: nose 0.15 mm, 0.181 mm a detent',
      expected: 3,
      ours: passes(20, nose, fine).detents,
    },
  ];
}

function finish(): readonly Check[] {
  const plan = passes(16, sharp, mm(0.2));
  const of = { ...practice, allowed: 0, why: 'a count agrees or does not' };
  return [
    {
      ...of,
      what: 'roughing ends one detent short of full depth',
      expected: plan.detents - 1,
      ours: plan.rough.at(-1)?.detents ?? 0,
    },
    {
      ...of,
      what: 'hardening stands before the last detent',
      expected: plan.detents - 1,
      ours: plan.hardenAt?.detents ?? 0,
    },
    { ...of, what: 'the last detent is the finishing pass', expected: 5, ours: plan.finish.detents },
  ];
}

export const rows = (): readonly Check[] => [...allowances(), ...detents(), ...finish()];
