// Percent of thread: our engagement is the share of today's rule, and the older rule's by six fifths.
import { type Fit, fitOf } from '../../../src/core/thread/fit.ts';
import { sharpHeight } from '../../../src/core/thread/form.ts';
import { inches, type Length, mm, tpi } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, halfDigit, type Row, sourceOf, statusOf } from '../source.ts';
import { basicLimit, basicPair, sixty } from './iso724.ts';

export const groups = ['1e_percent_thread'];
export const count = 7;

/** The engagement of a bolt of this size in a hole of that one, as a share. */
function engagement(pitch: Length, bolt: Length, hole: Length): number {
  const fit: Fit | { kind: string } = fitOf(basicPair(pitch), hole, bolt);
  return 'engagement' in fit ? fit.engagement : Number.NaN;
}

/** The hole whose engagement is this share: size less share times D - D1. */
const hole = (pitch: Length, bolt: Length, share: number): number => bolt - share * basicLimit(pitch);

/** The older rule's whole is 3/4 H twice, today's 5/8 H twice. */
const older = (pitch: Length): number => (3 / 2) * sharpHeight(pitch, sixty);
const sixFifths = (share: number): number => (share * basicLimit(mm(1))) / older(mm(1));

const quarter = inches(0.25);
const twenty = tpi(20);

const OURS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  'ANSI B1.1/ISO form: hole = D - 1.08253*pct/100/n': { k: basicLimit(mm(1)) },
  'older American National form: drill = D - 0.01299*pct/n': { k: older(mm(1)) / 100 },
  '1/4-20, 75 %, 0.01299 rule': { drill: (quarter - 0.75 * older(twenty)) / 25.4 },
  '1/4-20, 75 %, 1.08253 rule': { drill: hole(twenty, quarter, 0.75) / 25.4 },
  '10 mm x 1.5, drill 8.5': {
    'pct_1.08253': 100 * engagement(mm(1.5), mm(10), mm(8.5)),
    'pct_1.29904': 100 * sixFifths(engagement(mm(1.5), mm(10), mm(8.5))),
  },
  'M24x1.5, drill 22.5': { 'pct_1.08253': 100 * engagement(mm(1.5), mm(24), mm(22.5)) },
};

const checks = (row: Row): readonly Check[] =>
  Object.keys(row.values).map((key) => ({
    what: `${row.id}: ${key}`,
    source: sourceOf(row),
    status: statusOf(row),
    expected: figure(row, key),
    ours: OURS[row.id]?.[key] ?? Number.NaN,
    allowed: halfDigit(row, key),
    why: 'half of the last printed digit',
    truth: `1e_percent_thread/${row.id}/${key}`,
  }));

export const rows = (): readonly Check[] => group('1e_percent_thread').flatMap(checks);
