// Laws of wood: moisture rises with humidity and turns round, gaps are the least there are, limits sit at zero gap.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { celsius, humidityShare, mm, moisture } from '../../src/core/units.ts';
import {
  equilibriumHumidity,
  equilibriumMoisture,
  type InDomain,
  MOISTURE_EQUATIONS,
} from '../../src/core/wood/moisture.ts';
import {
  changeByCoefficient,
  changeByShrinkage,
  changeOf,
  GRAINS,
  leastGap,
  type Oval,
  ovalOf,
  type Ring,
  ringOf,
} from '../../src/core/wood/movement.ts';
import {
  clearanceNeeded,
  gapAtMoisture,
  leastGapOver,
  type Made,
  type SeasonAir,
  type SeasonPair,
  seasonOf,
  wetOf,
} from '../../src/core/wood/season.ts';
import { WOODS } from '../../src/core/wood/woods.ts';
import { number, numbersIn } from '../support/arbitrary.ts';
import { ofKind } from '../support/of-kind.ts';

const equations = fc.constantFrom(...MOISTURE_EQUATIONS);
const temperatures = number(0, 60).map(celsius);
const contents = number(0, 30).map(moisture);
const known = WOODS.flatMap((wood) => wood.figures);
const rings: fc.Arbitrary<Ring> = fc
  .tuple(fc.constantFrom(...known), fc.constantFrom(...GRAINS))
  .map(([figures, grain]) => ringOf(figures, grain));
const air: fc.Arbitrary<Made> = fc
  .tuple(number(5, 35), number(0.05, 0.9))
  .map(([t, h]) => ({ kind: 'air', temperature: celsius(t), humidity: humidityShare(h) }));
const meter: fc.Arbitrary<Made> = number(2, 24).map((mc) => ({ kind: 'meter', moisture: moisture(mc) }));
const parts = fc.record({ ring: rings, made: fc.oneof(air, meter) });
const pairs: fc.Arbitrary<SeasonPair> = fc.record({
  diameter: number(10, 200).map(mm),
  clearance: number(-0.2, 1).map(mm),
  bore: parts,
  spigot: parts,
});
/** Body and lid from one blank. */
const alikePairs: fc.Arbitrary<SeasonPair> = pairs.map((pair) => ({ ...pair, spigot: pair.bore }));
const rooms: fc.Arbitrary<SeasonAir> = fc.record({ by: equations, temperature: temperatures });

const held = <T>(found: InDomain<T>): T => {
  if (!found.ok) throw new Error(JSON.stringify(found));
  return found.value;
};

test('moisture rises with humidity, and comes back from it', () => {
  fc.assert(
    fc.property(equations, temperatures, number(0, 0.98), number(1e-6, 0.01), (by, temperature, h, more) => {
      const at = (share: number) =>
        held(equilibriumMoisture(by, { temperature, humidity: humidityShare(share) }));
      expect(at(h + more)).toBeGreaterThan(at(h));
      expect(held(equilibriumHumidity(by, temperature, at(h)))).toBeCloseTo(h, 9);
    }),
  );
});

test('sizes grow with moisture, as they shrink again', () => {
  const swells = rings.map(({ first }) => first);
  fc.assert(
    fc.property(number(1, 500).map(mm), swells, contents, contents, (size, swell, from, to) => {
      const [held1, held2] = [moisture(6 + (from * 8) / 30), moisture(6 + (to * 8) / 30)];
      expect(changeByCoefficient(size, swell, held1, held2)).toBeCloseTo(
        -changeByCoefficient(size, swell, held2, held1),
        12,
      );
      const there = changeByShrinkage(size, swell, from, to);
      expect(changeByShrinkage(mm(size + there), swell, to, from)).toBeCloseTo(-there, 9);
      const gained = changeOf(size, swell, from, to);
      if (Math.abs(to - from) > 1e-9) expect(Math.sign(gained)).toBe(Math.sign(to - from));
      expect(changeOf(mm(3 * size), swell, from, to)).toBeCloseTo(3 * gained, 9);
    }),
  );
});

test('no step at 6 and 14 %, where the law changes', () => {
  fc.assert(
    fc.property(rings, contents, fc.constantFrom(6, 14), ({ first }, from, bound) => {
      const at = (to: number) => changeOf(mm(100), first, from, moisture(to));
      expect(at(bound + 1e-9)).toBeCloseTo(at(bound - 1e-9), 8);
    }),
  );
});

/** Half the width of an ellipse across the direction `x`. */
const support = (diameter: number, { mean, half }: Oval, x: number): number =>
  Math.hypot((diameter + mean + half) * Math.cos(x), (diameter + mean - half) * Math.sin(x)) / 2;

const STEPS = 360;
/** The least gap between two real ovals, their grain turned by `turn`, over every direction of a grid. */
function searched(pair: SeasonPair, bore: Oval, spigot: Oval, turn: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let step = 0; step < STEPS; step++) {
    const x = (Math.PI * step) / STEPS;
    const gap = support(pair.diameter, bore, x) - support(pair.diameter, spigot, x - turn);
    least = Math.min(least, 2 * gap + pair.clearance);
  }
  return least;
}

const ovalsOf = (pair: SeasonPair, from: number, to: number): readonly [Oval, Oval] => [
  ovalOf(pair.diameter, pair.bore.ring, moisture(from), moisture(to)),
  ovalOf(pair.diameter, pair.spigot.ring, moisture(to), moisture(from)),
];

test('the least gap is the one that a search over both ovals and all turns finds', () => {
  fc.assert(
    fc.property(pairs, contents, contents, fc.boolean(), (pair, from, to, same) => {
      const [bore, other] = ovalsOf(pair, from, to);
      const spigot = same ? bore : other;
      const turns = Array.from({ length: 36 }, (_, at) => (Math.PI * at) / 36);
      const found = Math.min(...turns.map((turn) => searched(pair, bore, spigot, turn)));
      expect(leastGap(pair.clearance, bore, spigot)).toBeCloseTo(found, 9);
    }),
    { numRuns: 40 },
  );
});

test('one wood loses D |CT - CR| |dM| at the worst turn, whichever way its moisture goes', () => {
  fc.assert(
    fc.property(alikePairs, number(6, 14), number(6, 14), (pair, from, to) => {
      const { first, second } = pair.bore.ring;
      const [oval] = ovalsOf(pair, from, to);
      const lost = pair.diameter * Math.abs((first.coefficient - second.coefficient) * (to - from));
      expect(leastGap(pair.clearance, oval, oval)).toBeCloseTo(pair.clearance - lost, 9);
    }),
  );
});

const gapIn = (pair: SeasonPair, room: SeasonAir, share: number): number =>
  ofKind('least', leastGapOver(pair, room, { from: humidityShare(share), to: humidityShare(share) })).gap;

test('solved limits of humidity sit at zero gap: it runs inside them and binds past them', () => {
  fc.assert(
    fc.property(fc.oneof(pairs, alikePairs), rooms, number(0, 1), (pair, room, inside) => {
      const season = seasonOf(pair, room);
      if (season.kind === 'never') {
        expect(gapIn(pair, room, season.bestAt)).toBeCloseTo(season.bestGap, 6);
        for (const share of [0, 0.2, 0.4, 0.6, 0.8, 0.99])
          expect(gapIn(pair, room, share)).toBeLessThanOrEqual(season.bestGap + 1e-9);
        return;
      }
      const { from, to } = ofKind('runs', season);
      const holds = ({ humidity, binds }: typeof from, bound: number, outwards: number): void => {
        if (!binds) {
          expect(humidity).toBe(bound);
          return;
        }
        expect(gapIn(pair, room, humidity)).toBeCloseTo(0, 6);
        const past = humidity + outwards * 1e-3;
        if (past > 0 && past < 1) expect(gapIn(pair, room, past)).toBeLessThan(1e-9);
      };
      holds(from, 0, -1);
      holds(to, 1, 1);
      const between = from.humidity + inside * (to.humidity - from.humidity);
      expect(gapIn(pair, room, between)).toBeGreaterThan(-1e-6);
    }),
    { numRuns: 200 },
  );
});

test('with the clearance needed, the range brings a least gap of zero; all lengths scale together', () => {
  fc.assert(
    fc.property(pairs, rooms, number(0.05, 0.95), number(0.05, 0.95), (pair, room, a, b) => {
      const range = { from: humidityShare(a), to: humidityShare(b) };
      const least = ofKind('least', leastGapOver(pair, room, range));
      expect(least.at).toBeGreaterThanOrEqual(Math.min(a, b) - 1e-9);
      expect(least.at).toBeLessThanOrEqual(Math.max(a, b) + 1e-9);
      const needed = clearanceNeeded(pair, least);
      const scaled = { ...pair, diameter: mm(2 * pair.diameter), clearance: mm(2 * pair.clearance) };
      const twice = leastGapOver(scaled, room, range);
      expect(ofKind('least', twice).gap).toBeCloseTo(2 * least.gap, 9);
      if (needed < 0) return;
      const mended = leastGapOver({ ...pair, clearance: needed }, room, range);
      expect(ofKind('least', mended).gap).toBeCloseTo(0, 9);
    }),
  );
});

test('more clearance never narrows the range', () => {
  fc.assert(
    fc.property(pairs, rooms, number(0, 0.5), (pair, room, more) => {
      const one = seasonOf(pair, room);
      if (one.kind !== 'runs') return;
      const two = ofKind('runs', seasonOf({ ...pair, clearance: mm(pair.clearance + more) }, room));
      expect(two.from.humidity).toBeLessThanOrEqual(one.from.humidity + 1e-9);
      expect(two.to.humidity).toBeGreaterThanOrEqual(one.to.humidity - 1e-9);
    }),
  );
});

test('no input gives NaN or infinity', () => {
  const any = fc.oneof(fc.double(), number(0, 100), number(0, 1));
  const wild = fc.record({
    diameter: any.map(mm),
    clearance: any.map(mm),
    bore: parts,
    spigot: fc.record({
      ring: rings,
      made: any.map((x): Made => ({ kind: 'meter', moisture: moisture(x) })),
    }),
  });
  fc.assert(
    fc.property(wild, equations, any, any, any, (pair, by, t, a, b) => {
      const temperature = celsius(t);
      const room = { by, temperature };
      const answers = [
        equilibriumMoisture(by, { temperature, humidity: humidityShare(a) }),
        equilibriumHumidity(by, temperature, moisture(a)),
        wetOf(pair, by),
        seasonOf(pair, room),
        leastGapOver(pair, room, { from: humidityShare(a), to: humidityShare(b) }),
      ];
      for (const found of numbersIn(answers)) expect(Number.isFinite(found)).toBe(true);
    }),
    { numRuns: 300 },
  );
});

test('the gap is a straight line between its corners, so that its extremes lie there', () => {
  fc.assert(
    fc.property(pairs, equations, number(0, 1), (pair, by, share) => {
      const made = held(wetOf(pair, by));
      const corners = [0, 6, 14, 30, made.bore, made.spigot].sort((a, b) => a - b);
      for (const [at, low] of corners.slice(0, -1).entries()) {
        const high = corners[at + 1] ?? low;
        const gap = (x: number) => gapAtMoisture(pair, made, moisture(x));
        const line = gap(low) + share * (gap(high) - gap(low));
        expect(gap(low + share * (high - low))).toBeCloseTo(line, 9);
      }
    }),
  );
});
