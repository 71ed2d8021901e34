// ISO 724: pitch and minor diameters of metric threads, from the fit's flank limit and from the form.

import { sharpHeight, tipLoss } from '../../../src/core/thread/form.ts';
import { limitsOf } from '../../../src/core/thread/limits.ts';
import type { Pair } from '../../../src/core/thread/pair.ts';
import { wantedDepth } from '../../../src/core/thread/passes.ts';
import { degrees, type Length, mm } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, halfDigit, type Row, sourceOf, statusOf } from '../source.ts';

export const groups = ['1b_iso724'];
export const count = 51;

export const sixty = degrees(60);

/** Both parts cut to the basic profile of ISO 68-1: 5/8 H deep, flat P/8 in the nut's root and P/4 in the bolt's. */
export function basicPair(pitch: Length): Pair {
  const depth = mm((5 / 8) * sharpHeight(pitch, sixty));
  return {
    pitch,
    starts: 1,
    angle: sixty,
    female: { depth, tip: { kind: 'flat', width: mm(pitch / 8) } },
    male: { depth, tip: { kind: 'flat', width: mm(pitch / 4) } },
  };
}

/** D - D1, the allowance at which basic flanks just touch. */
export function basicLimit(pitch: Length): number {
  const limits = limitsOf(basicPair(pitch));
  return limits.kind === 'limits' ? limits.flank : Number.NaN;
}

/** D - D2: twice the way from the bolt's crest to where groove and ridge are equally wide, half of H above the sharp root. */
export function pitchLineDrop(pitch: Length): number {
  const { depth, tip } = basicPair(pitch).male;
  return 2 * (depth + tipLoss(tip, sixty) - sharpHeight(pitch, sixty) / 2);
}

/** d - d3: twice the deepest ordinary profile. */
export const coreDrop = (pitch: Length): number =>
  2 * wantedDepth({ pitch, angle: sixty, tip: { kind: 'sharp' }, profile: 'deepest' });

const OURS: Readonly<Record<string, (pitch: Length) => number>> = {
  D2: pitchLineDrop,
  D1: basicLimit,
  d3: coreDrop,
};

const checks = (row: Row): readonly Check[] =>
  Object.keys(row.values).map((key) => ({
    what: `${row.id} ${key} [mm]`,
    source: `${sourceOf(row)}, row ${row.id}`,
    status: statusOf(row),
    expected: figure(row, key),
    ours: figure(row, 'D') - (OURS[key]?.(mm(figure(row, 'P'))) ?? Number.NaN),
    allowed: halfDigit(row, key),
    why: 'half of the last printed digit',
    truth: `1b_iso724/${row.id}/${key}`,
  }));

export const rows = (): readonly Check[] => group('1b_iso724').flatMap(checks);
