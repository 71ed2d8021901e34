// BS 84: effective and minor diameters from a pair cut to its depth by its radius, in both parts.

import { basicHeight, sharpHeight, tipLoss } from '../../../src/core/thread/form.ts';
import { limitsOf } from '../../../src/core/thread/limits.ts';
import type { Pair } from '../../../src/core/thread/pair.ts';
import { degrees, type Length, mm, tpi } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, halfDigit, type Row, sourceOf, statusOf } from '../source.ts';

export const groups = ['1d_whitworth'];
export const count = 28;

const fiftyFive = degrees(55);

/** Depth and radius as shares of the pitch (BS 84 form; from memory). */
const DEPTH = 0.640327;
const RADIUS = 0.137329;

export function whitworthPair(pitch: Length): Pair {
  const groove = {
    depth: mm(DEPTH * pitch),
    tip: { kind: 'radius', radius: mm(RADIUS * pitch) },
  } as const;
  return { pitch, starts: 1, angle: fiftyFive, female: groove, male: groove };
}

const flank = (pitch: Length): number => {
  const limits = limitsOf(whitworthPair(pitch));
  return limits.kind === 'limits' ? limits.flank : Number.NaN;
};

/** Twice the way from the crest to where groove and ridge are equally wide: one whole depth in this form. */
function effectiveDrop(pitch: Length): number {
  const { depth, tip } = whitworthPair(pitch).male;
  return 2 * (depth + tipLoss(tip, fiftyFive) - sharpHeight(pitch, fiftyFive) / 2);
}

const drop: Readonly<Record<string, (pitch: Length) => number>> = { effective: effectiveDrop, minor: flank };

/** Rows whose last digit is known to come from somewhere else than the form. */
const LOOSE: Readonly<Record<string, string>> = {
  '1-8 BSW (2nd table)/minor': 'this table was converted through millimetres and back: one last digit',
};

const diameters = (row: Row): readonly Check[] =>
  Object.keys(row.values).map((key) => {
    const loose = LOOSE[`${row.id}/${key}`];
    return {
      what: `${row.id} ${key} [in]`,
      source: `${sourceOf(row)}, row ${row.id}`,
      status: statusOf(row),
      expected: figure(row, key),
      ours: figure(row, 'major') - (drop[key]?.(tpi(figure(row, 'tpi'))) ?? Number.NaN) / 25.4,
      allowed: loose ? 0.0001 : halfDigit(row, key),
      ...(loose ? { printed: halfDigit(row, key) } : {}),
      why: loose ?? 'half of the last printed digit',
      truth: `1d_whitworth/${row.id}/${key}`,
    };
  });

const form = (row: Row): Check => ({
  what: 'H / P at 55 degrees',
  source: sourceOf(row),
  status: statusOf(row),
  expected: figure(row, 'ratio'),
  ours: sharpHeight(mm(1), fiftyFive),
  allowed: halfDigit(row, 'ratio'),
  why: 'half of the last printed digit',
  truth: `1d_whitworth/${row.id}/ratio`,
});

/** The form's own ratios against the fit, from memory of BS 84. */
function ratios(): readonly Check[] {
  const of = { source: 'BS 84 form ratios', status: 'MEMORY' } as const;
  const twice = {
    ...of,
    expected: 2 * DEPTH,
    allowed: 5e-6,
    printed: 5e-7,
    why: 'depth and radius are rounded to six digits: up to 4.3e-6',
  };
  const limits = limitsOf(whitworthPair(mm(1)));
  const root = limits.kind === 'limits' ? limits.root : Number.NaN;
  return [
    { what: 'flank limit / P with both radii is twice the depth', ...twice, ours: flank(mm(1)) },
    { what: 'root limit / P with both radii is twice the depth', ...twice, ours: root },
    {
      what: 'basic height / P is the depth',
      ...of,
      expected: DEPTH,
      ours: basicHeight(mm(1), fiftyFive),
      allowed: 5e-7,
      why: 'half of the last printed digit',
    },
  ];
}

export const rows = (): readonly Check[] => [
  ...group('1d_whitworth').flatMap((row) => ('ratio' in row.values ? [form(row)] : diameters(row))),
  ...ratios(),
];
