// Measuring over three wires: constants from our form alone, since a wire in a groove is a nose in it.
import { sharpHeight, tipLoss } from '../../../src/core/thread/form.ts';
import { type Angle, degrees, mm } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, type Row, statusOf } from '../source.ts';
import { basicPair, pitchLineDrop } from './iso724.ts';

export const groups = ['1f_three_wire'];
export const count = 7;

const [sixty, fiftyFive] = [degrees(60), degrees(55)];

/** Of a wire of diameter one: from the sharp root to over the wire and back, W (1 + 1/sin(alpha/2)). */
const overWire = (angle: Angle): number => 2 * (tipLoss({ kind: 'radius', radius: mm(0.5) }, angle) + 1);
/** The wire that touches where groove and ridge are equally wide: P / (2 cos(alpha/2)). */
const best = (angle: Angle): number => 1 / (2 * Math.cos(angle / 2));

/** Over the best wires on a basic bolt of major diameter D: D + this. */
const bestOver = (pitch: number): number =>
  best(sixty) * pitch * overWire(sixty) -
  sharpHeight(mm(pitch), sixty) -
  pitchLineDrop(basicPair(mm(pitch)).pitch);

const OURS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  '60 deg: best wire /P': { k: best(sixty) },
  '60 deg: M = E - 0.86603P + 3W': { k: sharpHeight(mm(1), sixty) },
  '60 deg best wire: M = D + 0.21651P': { k: bestOver(1) },
  '55 deg: best wire /P': { k: best(fiftyFive) },
  '55 deg: M = E + 3.16568W - 0.96049P': { kW: overWire(fiftyFive), kP: sharpHeight(mm(1), fiftyFive) },
  'derived example M30x1.5, best wire 0.8660': { W: best(sixty) * 1.5, M_over_wires: 30 + bestOver(1.5) },
};

const PRINTED = 0.5e-5;

const checks = (row: Row): readonly Check[] =>
  Object.keys(row.values)
    .filter((key) => key !== 'W')
    .map((key) => ({
      what: `${row.id}: ${key}`,
      source: row.source ?? 'none named',
      status: statusOf(row),
      expected: figure(row, key),
      ours: OURS[row.id]?.[key] ?? Number.NaN,
      allowed: key === 'M_over_wires' ? 0.0005 : PRINTED + 1e-9,
      why: 'half of the last printed digit',
      truth: `1f_three_wire/${row.id}/${key}`,
    }));

export const leftOut = {
  '1f_three_wire/derived example M30x1.5, best wire 0.8660/W':
    'the wire of the row above it, rounded to four digits',
};

export const rows = (): readonly Check[] => group('1f_three_wire').flatMap(checks);
