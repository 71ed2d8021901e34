// Rocks shown without rounding or noise: what the fit of a peak makes of a shape that is known.
import { describe, expect, test } from 'vitest';
import {
  addReading,
  type Capture,
  finishCapture,
  peaksOf,
  startCapture,
} from '../../src/core/measure/capture.ts';
import { defaultSettings, type Side } from '../../src/core/measure/capture-settings.ts';
import type { Reading } from '../../src/core/measure/reading.ts';
import { verdictOf } from '../../src/core/measure/verdict.ts';
import { degrees, millis, mm } from '../../src/core/units.ts';

interface Swing {
  readonly side?: Side;
  readonly every?: number;
  /** Milliseconds from side to side. */
  readonly stroke?: number;
  readonly lean?: number;
  readonly strokes?: number;
  readonly reach?: number;
  /** How near to 50 mm each peak is, in micrometres. */
  readonly near?: number;
}

/** A hand that swings as a sine across 50 mm. */
function swung({
  side = 'bore',
  every = 100,
  stroke = 900,
  lean = 0.2,
  strokes = 6,
  reach = 3,
}: Swing = {}): readonly Reading[] {
  const sign = side === 'bore' ? -1 : 1;
  const count = Math.floor((stroke * strokes) / every);
  return Array.from({ length: count }, (_, i) => {
    const at = Math.round(i * every);
    const off = lean + (reach + 0.2 * Math.sin(at / 1700)) * Math.cos((Math.PI * at) / stroke);
    const value = mm(Math.sqrt(2500 + sign * 4 * off ** 2));
    return { value, unit: 'mm', step: mm(0.01), text: '', at: millis(at) };
  });
}

const captured = (readings: readonly Reading[], side: Side = 'bore'): Capture =>
  finishCapture(
    readings.reduce(addReading, startCapture({ ...defaultSettings(side), tiltHalfRange: degrees(0) })),
  );

describe('a swing as a sine', () => {
  test.each<Swing>([
    {},
    { every: 40 },
    { every: 62 },
    { stroke: 1300 },
    { stroke: 700, every: 70 },
    { lean: 0 },
    { lean: -0.8, near: 3.5 },
    { reach: 1.5 },
    { reach: 4.4, strokes: 9, near: 2.5 },
    { side: 'outside' },
    { side: 'outside', every: 40, lean: 0.6 },
  ])(
    '%o: one peak a stroke, within 2 um of 50 mm where nothing else is said, from readings around it',
    (swing) => {
      const readings = swung(swing);
      const capture = captured(readings, swing.side);
      const peaks = peaksOf(capture);
      expect(peaks).toHaveLength(swing.strokes ?? 6);
      for (const peak of peaks) {
        expect(Math.abs(peak.value - 50)).toBeLessThan((swing.near ?? 2) / 1000);
        const times = peak.from.map((place) => readings[place]?.at ?? 0);
        expect(times.length).toBeGreaterThan(3);
        expect(Math.max(...times) - Math.min(...times)).toBeLessThan(swing.stroke ?? 900);
      }
      const verdict = verdictOf(capture);
      expect(verdict).toMatchObject({ state: 'steady', agreeing: peaks.length });
      if (verdict.state === 'steady') expect(verdict.standardUncertainty).toBeLessThan(0.004);
    },
  );
});
