// Laws of the plan: what it refuses names something possible, trims close with the grain in line, speeds and rods scale.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LINED_UP_WITHIN, trimFor } from '../../src/core/plan/alignment.ts';
import { type BoxWanted, planBox, suggestPlan } from '../../src/core/plan/box.ts';
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
import { type Length, mm, radians } from '../../src/core/units.ts';
import { number, numbersIn } from '../support/arbitrary.ts';
import { ofKind } from '../support/of-kind.ts';

const lengths = (min: number, max: number) => number(min, max).map(mm);

const wantedOf = (
  lengths: (min: number, max: number) => fc.Arbitrary<Length>,
  starts: fc.Arbitrary<number>,
): fc.Arbitrary<BoxWanted> =>
  fc.record({
    outside: lengths(20, 120),
    bore: lengths(10, 100),
    spigot: lengths(10, 100),
    pitch: lengths(0.8, 4),
    starts,
    depth: fc.record({ female: lengths(0.4, 3), male: lengths(0.4, 3) }),
    grooveWidth: lengths(0.5, 4),
    engaged: lengths(0.5, 30),
    leastWall: lengths(1, 6),
    hollow: lengths(2, 90),
    boreDepth: lengths(2, 60),
  });

/** What the refusal says may be changed, each on its own; undefined for a way that is none. */
function waysOut(refused: PlanRefusal): readonly Readonly<Record<string, Length | undefined>>[] {
  switch (refused.kind) {
    case 'wall-too-thin':
      return [{ outside: refused.leastOutside }, { bore: refused.mostBore }];
    case 'spigot-too-thin':
      return [{ hollow: refused.mostHollow }];
    case 'too-few-threads':
      return [{ engaged: refused.leastEngaged }];
    case 'bore-too-shallow':
      return [{ boreDepth: refused.leastRoom }, { engaged: refused.mostEngaged }];
    default:
      throw new Error(planRefusalText(refused));
  }
}

test('a plan keeps its walls, or its refusal names plans that are not refused for the same', () => {
  const seen = new Set<string>();
  fc.assert(
    fc.property(wantedOf(lengths, fc.integer({ min: 1, max: 6 })), (wish) => {
      const plan = planBox(wish);
      seen.add(plan.kind);
      if (plan.kind === 'box') {
        expect(plan.wallAtRunout.female).toBeGreaterThanOrEqual(wish.leastWall - 1e-9);
        expect(plan.wallAtRunout.male).toBeGreaterThanOrEqual(wish.leastWall - 1e-9);
        expect(plan.leastBoreDepth).toBeLessThanOrEqual((wish.boreDepth ?? 0) + 1e-9);
        expect(plan.runout.width).toBeGreaterThanOrEqual(wish.pitch);
        expect(plan.turns * plan.lead).toBeCloseTo(wish.engaged, 9);
        return;
      }
      for (const change of waysOut(plan)) {
        if (Object.values(change).includes(undefined)) continue;
        expect(planBox({ ...wish, ...change }).kind).not.toBe(plan.kind);
      }
      expect(planRefusalText(plan)).not.toMatch(/NaN|undefined|Infinity/);
    }),
    { numRuns: 600 },
  );
  const refusals = ['bore-too-shallow', 'spigot-too-thin', 'too-few-threads', 'wall-too-thin'];
  expect(seen).toEqual(new Set(['box', ...refusals]));
});

test('every suggested box can be made, and a refusal names the smallest outside that can', () => {
  fc.assert(
    fc.property(lengths(0.1, 400), fc.option(lengths(0.5, 5), { nil: undefined }), (outside, least) => {
      const known = least === undefined ? {} : { leastWall: least };
      const found = suggestPlan(outside, known);
      if (found.kind !== 'suggestion') {
        const { leastOutside } = ofKind('wall-too-thin', found);
        expect(leastOutside).toBeGreaterThan(outside);
        expect(suggestPlan(leastOutside, known).kind).toBe('suggestion');
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
      const whirl = (of: Rod) => ofKind('whirl', whirlOf(of));
      const one = whirl(rod);
      const longer = whirl({ ...rod, length: mm(2 * rod.length) });
      const thicker = whirl({ ...rod, diameter: mm(3 * rod.diameter), hole: mm(3 * (rod.hole ?? 0)) });
      expect(one.at / longer.at).toBeCloseTo(4, 9);
      expect(thicker.at / one.at).toBeCloseTo(3, 9);
      expect(one.at / one.mostSpeed).toBeCloseTo(4, 9);
      const why = rodWhirls(rod, turnsPerMinute(n));
      if (!why) {
        expect(n).toBeLessThanOrEqual(one.mostSpeed * (1 + 1e-9));
        return;
      }
      const { mostLength } = ofKind('rod-whirls', why);
      expect(rodWhirls({ ...rod, length: mostLength }, turnsPerMinute(n))).toBeUndefined();
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
  const size = any.map(mm);
  const rod = fc.record({
    diameter: size,
    hole: size,
    length: size,
    material: fc.record({ stiffness: any, density: any }),
  });
  fc.assert(
    fc.property(
      wantedOf(() => size, any),
      rod,
      any,
      (wish, rod, x) => {
        const speed = turnsPerMinute(x);
        const answers = [
          planBox(wish),
          suggestPlan(wish.outside),
          trimFor({ pitch: wish.pitch, starts: wish.starts, toGo: radians(x) }),
          whirlOf(rod),
          rodWhirls(rod, speed),
          overTopSpeed(speed, turnsPerMinute(wish.bore)),
          cutterTooLarge(wish.bore, wish.spigot),
        ];
        for (const found of numbersIn(answers)) expect(Number.isFinite(found)).toBe(true);
      },
    ),
    { numRuns: 400 },
  );
});
