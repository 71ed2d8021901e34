// ASME B1.1: Unified diameters from the fit's flank limit and the form, and the heights table.

import { sharpHeight } from '../../../src/core/thread/form.ts';
import { wantedDepth } from '../../../src/core/thread/passes.ts';
import { inInches, mm, tpi } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, halfDigit, type Row, sourceOf, statusOf } from '../source.ts';
import { basicLimit, coreDrop, pitchLineDrop, sixty } from './iso724.ts';

export const groups = ['1c_unified', '1c_thread_height_table'];
export const count = 57;

const digit = 'half of the last printed digit';

interface Ours {
  /** In inches, from major diameter and pitch in inches. */
  readonly value: (row: Row) => number;
  readonly allowed?: number;
  readonly why?: string;
}

/** Figures that their own chart's formula does not give. */
const MISSES: Readonly<Record<string, string>> = {
  '3/4-16 UNF/minor_external_UNR':
    'taken for a misprint: the formula beside it, D - 1.19078/n, gives 0.6756, and 0.6763 meets no other',
};

const pitchOf = (row: Row) => tpi(figure(row, 'tpi'));
const below = (row: Row, drop: number): number => figure(row, 'major') - drop / 25.4;
const basicPitch = (row: Row): number => below(row, pitchLineDrop(pitchOf(row)));
const basicMinor = (row: Row): number => below(row, basicLimit(pitchOf(row)));
const mmBelow = (row: Row, drop: number): number => figure(row, 'major_in') * 25.4 - drop;
const converted = {
  allowed: 0.00005 * 25.4 + 0.001,
  why: 'the source converts from inches rounded to 0.0001, and cuts off after 0.001 mm',
};

const OURS: Readonly<Record<string, Ours>> = {
  pitch_dia: { value: basicPitch },
  minor_internal: { value: basicMinor },
  minor_external_UNR: {
    value: (row) => below(row, (11 / 8) * sharpHeight(pitchOf(row), sixty)),
    allowed: 0.0001,
    why: 'the charts take off a double height cut off after 0.0001 in',
  },
  pitch_max_3A: { value: basicPitch },
  pitch_max_2A: {
    value: (row) => basicPitch(row) - figure(row, 'allowance_2A'),
    allowed: 0.0001 + 1e-9,
    why: 'a difference of two figures each rounded to 0.0001 in',
  },
  minor_internal_min_2B: {
    value: basicMinor,
    allowed: 0.0005 + 1e-9,
    why: 'the standard rounds 2B minor limits to 0.001 in',
  },
  d2_mm: { value: (row) => mmBelow(row, pitchLineDrop(pitchOf(row))), ...converted },
  D1_mm: { value: (row) => mmBelow(row, basicLimit(pitchOf(row))), ...converted },
  d3_mm: { value: (row) => mmBelow(row, coreDrop(pitchOf(row))), ...converted },
};

const missOf = (figureId: string): { knownMiss?: string } => {
  const knownMiss = MISSES[figureId];
  return knownMiss === undefined ? {} : { knownMiss };
};

const diameters = (row: Row): readonly Check[] =>
  Object.keys(row.values)
    .filter((key) => key !== 'allowance_2A')
    .map((key) => ({
      ...missOf(`${row.id}/${key}`),
      what: `${row.id} ${key} [${key.endsWith('_mm') ? 'mm' : 'in'}]`,
      source: `${sourceOf(row)}, row ${row.id}`,
      status: statusOf(row),
      expected: figure(row, key),
      ours: OURS[key]?.value(row) ?? Number.NaN,
      allowed: OURS[key]?.allowed ?? halfDigit(row, key),
      ...(OURS[key]?.allowed === undefined ? {} : { printed: halfDigit(row, key) }),
      why: OURS[key]?.why ?? digit,
      truth: `1c_unified/${row.id}/${key}`,
    }));

const heights = (row: Row): readonly Check[] =>
  Object.keys(row.values).map((key) => {
    const profile = key.startsWith('5H/8') ? 'basic' : 'deepest';
    const pitch = tpi(Number.parseInt(row.id, 10));
    const depth = wantedDepth({ pitch, angle: sixty, tip: { kind: 'sharp' }, profile });
    return {
      what: `${row.id} height ${key} [in]`,
      source: `${sourceOf(row)}, thread height table`,
      status: statusOf(row),
      expected: figure(row, key),
      ours: inInches(mm(depth)),
      allowed: halfDigit(row, key),
      why: digit,
      truth: `1c_thread_height_table/${row.id}/${key}`,
    };
  });

export const leftOut = {
  '1c_unified/15/16-12 UN (limits)/allowance_2A':
    'an input of the row above it: the program has no tolerance classes',
  '1c_unified/15/16-20 UNEF (limits)/allowance_2A':
    'an input of the row above it: the program has no tolerance classes',
};

export const rows = (): readonly Check[] => [
  ...group('1c_unified').flatMap(diameters),
  ...group('1c_thread_height_table').flatMap(heights),
];
