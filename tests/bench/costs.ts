// What the sums cost: one reading into a capture, a whole fit with its uncertainty, a season solved.
import { addReading, startCapture } from '../../src/core/measure/capture.ts';
import { defaultSettings } from '../../src/core/measure/capture-settings.ts';
import { chancesOf, clearanceDoubt } from '../../src/core/thread/chances.ts';
import { fitOf, limitsOf, targetSpigot } from '../../src/core/thread/fit.ts';
import type { Groove, Pair } from '../../src/core/thread/pair.ts';
import { celsius, degrees, humidityPercent, mm, tpi } from '../../src/core/units.ts';
import { ringOf } from '../../src/core/wood/movement.ts';
import { seasonOf } from '../../src/core/wood/season.ts';
import { findWood } from '../../src/core/wood/woods.ts';
import { ofKind } from '../support/of-kind.ts';
import { processorMs } from '../support/processor.ts';
import { chordOf, shownAs } from '../support/readings.ts';

/** Microseconds that one of these takes, after some that only warm it. */
function microseconds(times: number, warming: number, work: (index: number) => void): number {
  for (let index = 0; index < warming; index++) work(index);
  const began = processorMs();
  for (let index = 0; index < times; index++) work(index);
  return ((processorMs() - began) * 1000) / times;
}

/** Microseconds a reading over the first readings of captures, and over the last of a long one. */
export function captureCost(): { readonly early: number; readonly late: number } {
  const readings = Array.from({ length: 12_000 }, (_, index) =>
    shownAs(chordOf(42.3, 3.6 * Math.sin(index / 5)), index * 125),
  );
  const run = (from: number, to: number, capture = startCapture(defaultSettings('bore'))) =>
    readings.slice(from, to).reduce(addReading, capture);
  const early = microseconds(20, 20, () => run(0, 500)) / 500;
  const long = run(0, 10_000);
  return { early, late: microseconds(10, 0, () => run(10_000, 12_000, long)) / 2000 };
}

const groove: Groove = { depth: mm(1), tip: { kind: 'sharp' } };
const pair: Pair = { pitch: tpi(16), starts: 1, angle: degrees(60), female: groove, male: groove };

/** Microseconds of a fit: limits, target, clearance, budget, chances. */
export const fitCost = (): number =>
  microseconds(5000, 2000, (index) => {
    const bore = mm(40 + (index % 100) / 100);
    const limits = ofKind('limits', limitsOf(pair));
    const target = ofKind('target', targetSpigot(pair, bore, mm(0.15)));
    const fit = ofKind('fit', fitOf(pair, bore, target.spigot));
    const size = { standard: mm(0.02), degreesOfFreedom: 8 };
    const touchOff = { female: mm(0.05), male: mm(0.05) };
    const budget = clearanceDoubt({ pair, limits, bore: size, spigot: size, touchOff });
    chancesOf(fit.clearance, budget, { runningFrom: mm(0.08), looseFrom: mm(0.3) });
  });

/** Microseconds of one season by one equation. */
export function seasonCost(): number {
  const found = findWood('maple, sugar');
  const figures = found.kind === 'found' ? found.wood.figures[0] : undefined;
  if (!figures) throw new Error('no wood');
  const made = { kind: 'air', temperature: celsius(20), humidity: humidityPercent(45) } as const;
  const part = { ring: ringOf(figures, 'end'), made };
  return microseconds(300, 300, (index) => {
    const clearance = mm(0.1 + (index % 50) / 100);
    seasonOf(
      { diameter: mm(52), clearance, bore: part, spigot: part },
      { by: 'handbook', temperature: celsius(20) },
    );
  });
}
