// Facts of the trade, with no source but practice: for which depth, tip, feed and clearance geometry agrees with them, and where not.
// They are figures to test with, not defaults of the program.
import { fitOf, limitsOf, targetSpigot } from '../../../src/core/thread/fit.ts';
import type { Tip } from '../../../src/core/thread/form.ts';
import type { Pair } from '../../../src/core/thread/pair.ts';
import { type Passes, planPasses, wantedDepth } from '../../../src/core/thread/passes.ts';
import { degrees, type Length, mm, tpi } from '../../../src/core/units.ts';
import { ofKind } from '../../support/of-kind.ts';
import type { Check } from '../check.ts';
import { family, stating } from '../source.ts';

const sharp: Tip = { kind: 'sharp' };
const bore = mm(50);

const pairOf = (threads: number, depth: number): Pair => {
  const groove = { depth: mm(depth), tip: sharp };
  return { pitch: tpi(threads), starts: 1, angle: degrees(60), female: groove, male: groove };
};

/** Spigot over bore for the usual clearance, both parts cut this deep by a sharp 60-degree cutter. */
const allowance = (threads: number, depth: number): number =>
  ofKind('target', targetSpigot(pairOf(threads, depth), bore, mm(0.15))).allowance;

const limit = (threads: number, depth: number): number =>
  ofKind('limits', limitsOf(pairOf(threads, depth))).limit;

/** The clearance that a spigot this much over the bore leaves. */
const left = (threads: number, depth: number, over: number): number =>
  ofKind('fit', fitOf(pairOf(threads, depth), bore, mm(bore + over))).clearance;

const scaled = 16 / 14;
const deepest14 = wantedDepth({ pitch: tpi(14), angle: degrees(60), tip: sharp, profile: 'deepest' });

function passes(threads: number, tip: Tip, feedPerDetent: Length): Passes {
  const form = { pitch: tpi(threads), starts: 1, angle: degrees(60), tip };
  return ofKind('passes', planPasses({ ...form, feedPerDetent, profile: 'deepest', harden: true }));
}

const practice = stating('common practice, no source', 'COMMON PRACTICE');
const aboutRight = (what: string, expected: number, ours: number, knownMiss?: string): Check =>
  practice(what, expected, ours, 0.05, '"about": half of the last digit said', knownMiss);
const counted = (what: string, expected: number, ours: number, knownMiss?: string): Check =>
  practice(what, expected, ours, 0, 'a count agrees or does not', knownMiss);

const detents = (threads: number, expected: number, tip: Tip, feed: number, knownMiss?: string): Check =>
  counted(
    `${threads} TPI, detents to full depth: ${tip.kind === 'sharp' ? 'sharp cutter' : 'nose 0.15 mm'}, ${feed} mm a detent`,
    expected,
    passes(threads, tip, mm(feed)).detents,
    knownMiss,
  );

function checks(): readonly Check[] {
  const nose: Tip = { kind: 'radius', radius: mm(0.15) };
  const plan = passes(16, sharp, mm(0.2));
  const over = (threads: number, depth: string): string =>
    `${threads} TPI, spigot over bore [mm]: both ${depth}, sharp, 0.15 mm clearance`;
  return [
    aboutRight(over(16, '1.0 mm deep'), 1.1, allowance(16, 1)),
    stating('by hand: 4 x 1.0 - 2 x 1.3748', 'DERIVED')(
      '16 TPI, limit [mm]: both 1.0 mm deep, sharp',
      1.25,
      limit(16, 1),
      0.005,
      'half of the last digit said',
    ),
    aboutRight(
      over(14, 'as deep in proportion (1.143 mm)'),
      1.6,
      allowance(14, scaled),
      'the same thread in proportion allows 1.28 mm only: 1.6 mm would seize by 0.17 mm',
    ),
    aboutRight(
      over(14, '17/24 H deep (1.113 mm)'),
      1.6,
      allowance(14, deepest14),
      'the deepest ordinary profile allows less still',
    ),
    aboutRight(over(14, '1.22 mm deep'), 1.6, allowance(14, 1.22)),
    aboutRight('14 TPI, clearance left by 1.6 mm over at 1.22 mm deep [mm]', 0.15, left(14, 1.22, 1.6)),
    aboutRight(
      '16 TPI, clearance left by 1.1 mm over at five detents of 0.2 mm [mm]',
      0.15,
      left(16, 5 * 0.2, 1.1),
    ),
    detents(16, 5, sharp, 0.2),
    detents(
      20,
      3,
      sharp,
      0.2,
      'depths go as 4 to 5, counts as 3 to 5: with a sharp cutter no one feed gives both',
    ),
    detents(16, 5, nose, 0.181),
    detents(20, 3, nose, 0.181),
    counted(
      'roughing ends one detent short of full depth',
      plan.detents - 1,
      plan.rough.at(-1)?.detents ?? 0,
    ),
    counted('hardening stands before the last detent', plan.detents - 1, plan.hardenAt?.detents ?? 0),
    counted('the last detent is the finishing pass', 5, plan.finish.detents),
  ];
}

export const trade = family('trade', { count: 14, more: checks });
