// Laws of the plan: what it refuses names something possible, trims close with the grain in line, speeds and rods scale.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LINED_UP_WITHIN, trimFor } from '../../src/core/plan/alignment.ts';
import { type BoxWanted, planBox } from '../../src/core/plan/box.ts';
import { type PlanRefusal, planRefusalText } from '../../src/core/plan/refusal.ts';
import {
  cutterTooLarge,
  overTopSpeed,
  ROD_MATERIALS,
  type Rod,
  rodWhirls,
  surfaceSpeed,
  turnsPerMinute,
  whirlOf,
} from '../../src/core/plan/speeds.ts';
import { suggestPlan } from '../../src/core/plan/suggestion.ts';
import { type Length, mm, radians } from '../../src/core/units.ts';
import { number, numbersIn } from '../support/arbitrary.ts';
import { ofKind } from '../support/of-kind.ts';

const lengths = (min: number, max: number) => number(min, max).map(mm);

const wanted: fc.Arbitrary<BoxWanted> = fc.record({
  outside: lengths(20, 120),
  bore: lengths(10, 100),
  spigot: lengths(10, 100),
  pitch: lengths(0.8, 4),
  starts: fc.integer({ min: 1, max: 6 }),
  depth: fc.record({ female: lengths(0.4, 3), male: lengths(0.4, 3) }),
  grooveWidth: lengths(0.5, 4),
  engaged: lengths(0.5, 30),
  leastWall: lengths(1, 6),
  hollow: lengths(2, 90),
  boreDepth: lengths(2, 60),
});

/** The wish mended as the refusal says, once for each way that it names. */
function mended(wish: BoxWanted, refused: PlanRefusal): readonly BoxWanted[] {
  switch (refused.kind) {
    case 'wall-too-thin':
      return [
        { ...wish, outside: refused.leastOutside },
        ...(refused.mostBore === undefined ? [] : [{ ...wish, bore: refused.mostBore }]),
      ];
    case 'spigot-too-thin':
      return refused.mostHollow === undefined ? [] : [{ ...wish, hollow: refused.mostHollow }];
    case 'too-few-threads':
      return [{ ...wish, engaged: refused.leastEngaged }];
    case 'bore-too-shallow':
      return [
        { ...wish, boreDepth: refused.leastRoom },
        ...(refused.mostEngaged === undefined ? [] : [{ ...wish, engaged: refused.mostEngaged }]),
      ];
    default:
      throw new Error(planRefusalText(refused));
  }
}

test('a plan keeps its walls, or its refusal names plans that are not refused for the same', () => {
  const seen = new Set<string>();
  fc.assert(
    fc.property(wanted, (wish) => {
      const plan = planBox(wish);
      seen.add(plan.kind);
      if (plan.kind === 'box') {
        expect(plan.boredWall).toBeGreaterThanOrEqual(wish.leastWall - 1e-9);
        expect(plan.spigotWall).toBeGreaterThanOrEqual(wish.leastWall - 1e-9);
        expect(plan.leastBoreDepth).toBeLessThanOrEqual((wish.boreDepth ?? 0) + 1e-9);
        expect(plan.runout.width).toBeGreaterThanOrEqual(wish.pitch);
        expect(plan.turns * plan.lead).toBeCloseTo(wish.engaged, 9);
        return;
      }
      for (const next of mended(wish, plan)) expect(planBox(next).kind).not.toBe(plan.kind);
      expect(planRefusalText(plan)).not.toMatch(/NaN|undefined|Infinity/);
    }),
    { numRuns: 600 },
  );
  expect([...seen].sort()).toEqual([
    'bore-too-shallow',
    'box',
    'spigot-too-thin',
    'too-few-threads',
    'wall-too-thin',
  ]);
});

test('all lengths of a plan scale together', () => {
  fc.assert(
    fc.property(lengths(20, 200), number(0.5, 3), (outside, k) => {
      const of = (x: Length) => mm(k * x);
      const one = suggestPlan(outside);
      if (one.kind !== 'suggestion') return;
      const wish: BoxWanted = {
        outside,
        bore: one.bore,
        spigot: mm(one.bore + one.depth),
        pitch: one.pitch.length,
        starts: 1,
        depth: { female: one.depth, male: one.depth },
        grooveWidth: one.pitch.length,
        engaged: one.engaged,
        leastWall: one.leastWall,
      };
      const large: BoxWanted = {
        ...wish,
        outside: of(wish.outside),
        bore: of(wish.bore),
        spigot: of(wish.spigot),
        pitch: of(wish.pitch),
        depth: { female: of(one.depth), male: of(one.depth) },
        grooveWidth: of(wish.grooveWidth),
        engaged: of(wish.engaged),
        leastWall: of(wish.leastWall),
      };
      const [a, b] = [planBox(wish), planBox(large)];
      if (a.kind !== 'box' || b.kind !== 'box') throw new Error(`${a.kind}, ${b.kind}`);
      expect(b.boredWall).toBeCloseTo(k * a.boredWall, 9);
      expect(b.runout.width).toBeCloseTo(k * a.runout.width, 9);
      expect(b.spigotLength).toBeCloseTo(k * a.spigotLength, 9);
      expect(b.turns).toBeCloseTo(a.turns, 9);
    }),
  );
});

test('every suggested box can be made, and a refusal names the smallest outside that can', () => {
  fc.assert(
    fc.property(lengths(0.1, 400), fc.option(lengths(0.5, 5), { nil: undefined }), (outside, least) => {
      const known = least === undefined ? {} : { leastWall: least };
      const found = suggestPlan(outside, known);
      if (found.kind !== 'suggestion') {
        if (found.kind !== 'wall-too-thin') throw new Error(found.kind);
        expect(found.leastOutside).toBeGreaterThan(outside);
        expect(suggestPlan(found.leastOutside, known).kind).toBe('suggestion');
        return;
      }
      expect((outside - found.bore) / 2 - found.depth).toBeGreaterThanOrEqual(1.5 * found.leastWall - 1e-9);
      expect(found.bore).toBeGreaterThan(0);
    }),
  );
});

test('the trim turns the lid on to its mark, by less than a pitch', () => {
  fc.assert(
    fc.property(
      lengths(0.5, 6),
      fc.integer({ min: 1, max: 12 }),
      number(-2 * Math.PI, 2 * Math.PI),
      (pitch, starts, toGo) => {
        const trim = ofKind('trim', trimFor({ pitch, starts, toGo: radians(toGo) }));
        expect(trim.amount).toBeGreaterThanOrEqual(0);
        expect(trim.amount).toBeLessThan(pitch);
        const turned = (2 * Math.PI * trim.amount) / (starts * pitch);
        const closings = ((toGo - turned) * starts) / (2 * Math.PI);
        const off = (Math.abs(closings - Math.round(closings)) * (2 * Math.PI)) / starts;
        expect(off).toBeLessThan(trim.amount > 0 ? 1e-7 : LINED_UP_WITHIN + 1e-7);
        if (trim.amount > 0) expect(trim.amount + trim.ring).toBeCloseTo(pitch, 9);
        expect(trim.perTenth * starts * pitch).toBeCloseTo(0.2 * Math.PI, 9);
      },
    ),
  );
});

test('surface speed goes with the diameter; both limits are where they say', () => {
  fc.assert(
    fc.property(lengths(1, 300), number(1, 30000), (diameter, n) => {
      expect(surfaceSpeed(mm(2 * diameter), turnsPerMinute(n))).toBeCloseTo(
        2 * surfaceSpeed(diameter, turnsPerMinute(n)),
        6,
      );
      const large = cutterTooLarge(mm(diameter + n / 1000), mm(1.5 * diameter));
      expect(large).toMatchObject({ kind: 'cutter-too-large', mostCutter: expect.closeTo(diameter, 9) });
      expect(cutterTooLarge(diameter, mm(1.5 * diameter))).toBeUndefined();
      expect(overTopSpeed(turnsPerMinute(n + 1), turnsPerMinute(n))?.kind).toBe('over-top-speed');
      expect(overTopSpeed(turnsPerMinute(n), turnsPerMinute(n))).toBeUndefined();
    }),
  );
});

const rods: fc.Arbitrary<Rod> = fc
  .record({
    diameter: lengths(2, 40),
    share: number(0, 0.95),
    length: lengths(20, 1500),
    material: fc.constantFrom(...Object.values(ROD_MATERIALS)),
  })
  .map(({ share, ...rod }) => ({ ...rod, hole: mm(share * rod.diameter) }));

test('the whirling speed grows with the thickness and falls with the square of the length; a refusal names a speed that works', () => {
  fc.assert(
    fc.property(rods, number(10, 20000), (rod, n) => {
      const [one, longer, thicker] = [
        whirlOf(rod),
        whirlOf({ ...rod, length: mm(2 * rod.length) }),
        whirlOf({ ...rod, diameter: mm(3 * rod.diameter), hole: mm(3 * (rod.hole ?? 0)) }),
      ];
      if (one.kind !== 'whirl' || longer.kind !== 'whirl' || thicker.kind !== 'whirl')
        throw new Error('a sound rod was refused');
      expect(one.at / longer.at).toBeCloseTo(4, 9);
      expect(thicker.at / one.at).toBeCloseTo(3, 9);
      expect(one.at / one.mostSpeed).toBeCloseTo(4, 9);
      const why = rodWhirls(rod, turnsPerMinute(n));
      if (!why) {
        expect(n).toBeLessThanOrEqual(one.mostSpeed * (1 + 1e-9));
        return;
      }
      if (why.kind !== 'rod-whirls') throw new Error(why.kind);
      expect(rodWhirls({ ...rod, length: why.mostLength }, turnsPerMinute(n))).toBeUndefined();
      expect(rodWhirls(rod, one.mostSpeed)).toBeUndefined();
    }),
  );
});

test('no input gives NaN or infinity', () => {
  const any = fc.oneof(
    fc.double({ min: -1e9, max: 1e9 }),
    fc.constantFrom(Number.POSITIVE_INFINITY, 0, -1),
    number(0, 50),
  );
  fc.assert(
    fc.property(fc.array(any, { minLength: 12, maxLength: 12 }), (x) => {
      const at = (index: number) => mm(x[index] ?? 0);
      const wish: BoxWanted = {
        outside: at(0),
        bore: at(1),
        spigot: at(2),
        pitch: at(3),
        starts: x[4] ?? 0,
        depth: { female: at(5), male: at(6) },
        grooveWidth: at(7),
        engaged: at(8),
        leastWall: at(9),
        hollow: at(10),
        boreDepth: at(11),
      };
      const rod = {
        diameter: at(0),
        hole: at(1),
        length: at(2),
        material: { stiffness: at(3), density: at(4) },
      };
      const answers = [
        planBox(wish),
        suggestPlan(at(0)),
        trimFor({ pitch: at(0), starts: x[1] ?? 0, toGo: radians(x[2] ?? 0) }),
        whirlOf(rod),
        rodWhirls(rod, turnsPerMinute(x[5] ?? 0)),
        overTopSpeed(turnsPerMinute(x[0] ?? 0), turnsPerMinute(x[1] ?? 0)),
        cutterTooLarge(at(0), at(1)),
      ];
      for (const found of numbersIn(answers)) expect(Number.isFinite(found)).toBe(true);
    }),
    { numRuns: 400 },
  );
});
