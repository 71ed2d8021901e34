// Surface speed: old rules in feet and inches, and one worked in metres.
import { surfaceSpeed, turnsPerMinute } from '../../../src/core/plan/speeds.ts';
import { inches, mm } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, halfDigit, sourceOf, statusOf } from '../source.ts';

export const count = 2;
export const groups = ['4a_surface_speed', '4b_thread_milling'];
export const leftOut = {
  '4a_surface_speed/60 ft/min on 5 in work -> rpm':
    'the program works out no turning speed from a surface speed',
  '4a_surface_speed/rpm = 3.820*sfm/dia': 'the same',
  '4a_surface_speed/100 mm at 20 mm/min -> 5 min':
    'a feed that the hand gives; the program reckons no such time',
  '4b_thread_milling': 'a feed along the helix that the hand gives; the program reckons none',
};

/** Metres in a foot, exact. */
const FOOT = 0.3048;

const OURS: Readonly<Record<string, { readonly key: string; readonly ours: number }>> = {
  'sfm = 0.262*dia*rpm': { key: 'k', ours: surfaceSpeed(inches(1), turnsPerMinute(1)) / FOOT },
  '60 mm at 1000 rpm, m/min': { key: 'v', ours: surfaceSpeed(mm(60), turnsPerMinute(1000)) },
};

export const rows = (): readonly Check[] =>
  group('4a_surface_speed').flatMap((row) => {
    const known = OURS[row.id];
    if (!known) return [];
    return {
      what: row.id,
      source: sourceOf(row),
      status: statusOf(row),
      expected: figure(row, known.key),
      ours: known.ours,
      allowed: halfDigit(row, known.key),
      why: 'half of the last printed digit',
      truth: `4a_surface_speed/${row.id}/${known.key}`,
    };
  });
