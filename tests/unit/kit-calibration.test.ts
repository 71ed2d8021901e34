// Calibrating a feed back from a pair that the fit itself made.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { calibrateByPair, type RunningPair } from '../../src/core/thread/calibrate.ts';
import { targetSpigot } from '../../src/core/thread/fit.ts';
import { flankSlope } from '../../src/core/thread/form.ts';
import { wideningOf } from '../../src/core/thread/milling.ts';
import { degrees, mm } from '../../src/core/units.ts';

const caliper = { name: 'a', step: mm(0.01), limitOfError: mm(0.03) };

test('a pair cut by counting, at a hidden feed, gives that feed back', () => {
  const counts = fc.record({
    detents: fc.integer({ min: 8, max: 40 }),
    more: fc.integer({ min: -2, max: 2 }),
    pitch: fc.double({ min: 1.2, max: 3, noNaN: true }),
    share: fc.double({ min: 0.5, max: 0.75, noNaN: true }),
    bore: fc.double({ min: 30, max: 90, noNaN: true }),
    clearance: fc.double({ min: 0.08, max: 0.25, noNaN: true }),
    disc: fc.option(fc.double({ min: 12, max: 20, noNaN: true }), { nil: undefined }),
  });
  let compared = 0;
  fc.assert(
    fc.property(counts, (c) => {
      const angle = degrees(60);
      const pitch = { length: mm(c.pitch) };
      const perDetent = mm((c.share * 0.866 * c.pitch) / c.detents);
      const cutter = {
        name: 'vee',
        angle,
        tip: { kind: 'flat', width: mm(c.pitch / 16) } as const,
        ...(c.disc === undefined ? {} : { diameter: mm(c.disc) }),
      };
      const detents = { female: c.detents, male: c.detents + c.more };
      const groove = (part: 'female' | 'male', surface: number) => {
        const depth = mm(perDetent * detents[part]);
        return {
          depth,
          tip: cutter.tip,
          widening: wideningOf({ pitch, starts: 1, cutter }, part, mm(surface), depth),
        };
      };
      const pair = {
        pitch: pitch.length,
        starts: 1,
        angle,
        female: groove('female', c.bore),
        male: groove('male', c.bore + c.pitch),
      };
      const target = targetSpigot(pair, mm(c.bore), mm(c.clearance));
      if (target.kind !== 'target') return;
      const limit = 2 * (pair.female.depth + pair.male.depth);
      if (limit <= 0) return;
      const of: RunningPair = {
        pitch,
        starts: 1,
        cutter,
        caliper,
        bore: mm(c.bore),
        spigot: target.spigot,
        detents,
        play: mm((c.clearance + flankLessLimit(pair, target.limit)) * flankSlope(angle)),
        playWithin: mm(0.05),
        touchOffWithin: mm(0.02),
      };
      const made = calibrateByPair(of);
      expect(made.kind).toBe('calibration');
      if (made.kind !== 'calibration') return;
      compared += 1;
      // The male widening was made at a spigot one pitch over the bore, not at the one found: worth well under a micrometre.
      expect(Math.abs(made.perDetent - perDetent) * c.detents).toBeLessThan(0.001);
      expect(made.doubt.standard).toBeGreaterThan(0);
    }),
    { numRuns: 200 },
  );
  expect(compared).toBeGreaterThan(100);
});

/** Play is of the flanks; where a crest bottoms first the flanks have more room than the clearance says. */
function flankLessLimit(pair: Parameters<typeof targetSpigot>[0], limit: number): number {
  const t = flankSlope(pair.angle);
  const sharp = pair.pitch / (2 * t);
  const short = (part: 'female' | 'male'): number => {
    const { depth, tip, widening } = pair[part];
    return depth + (tip.kind === 'flat' ? tip.width / (2 * t) : 0) + (widening ?? 0) / t;
  };
  return 2 * (short('female') + short('male')) - 2 * sharp - limit;
}
