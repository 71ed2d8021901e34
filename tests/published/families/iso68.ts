// ISO 68-1: the basic profile's ratios, from the form and the fit at a pitch of one.
import { sharpHeight } from '../../../src/core/thread/form.ts';
import { wantedDepth } from '../../../src/core/thread/passes.ts';
import { mm } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, halfDigit, sourceOf, statusOf } from '../source.ts';
import { basicLimit, coreDrop, pitchLineDrop, sixty } from './iso724.ts';

export const groups = ['1a_iso68_ratios'];
export const count = 10;

const one = mm(1);
const height = sharpHeight(one, sixty);
const depth = (profile: 'basic' | 'deepest'): number =>
  wantedDepth({ pitch: one, angle: sixty, tip: { kind: 'sharp' }, profile });

const OURS: Readonly<Record<string, number>> = {
  'H/P': height,
  '5H/8 /P (H1)': depth('basic'),
  '3H/8 /P': (3 / 8) * height,
  'H/4 /P': height / 4,
  'H/8 /P': height / 8,
  '17H/24 /P (h3)': depth('deepest'),
  'H/6 /P (root radius)': height / 6,
  'D-D1 /P': basicLimit(one),
  'D-D2 /P': pitchLineDrop(one),
  'd-d3 /P': coreDrop(one),
};

export const rows = (): readonly Check[] =>
  group('1a_iso68_ratios').map((row) => ({
    what: row.id,
    source: sourceOf(row),
    status: statusOf(row),
    expected: figure(row, 'ratio'),
    ours: OURS[row.id] ?? Number.NaN,
    allowed: halfDigit(row, 'ratio'),
    why: 'half of the last printed digit',
    truth: `1a_iso68_ratios/${row.id}/ratio`,
  }));
