// Inside jaws in a small bore, a bar held at one end, and surface speed.
import { landCorrected } from '../../../src/core/measure/corrections.ts';
import {
  FIRST_ROOT,
  firstFrequency,
  ROD_MATERIALS,
  surfaceSpeed,
  turnsPerMinute,
  whirlOf,
} from '../../../src/core/plan/speeds.ts';
import { rootBetween } from '../../../src/core/root.ts';
import { inches, mm } from '../../../src/core/units.ts';
import { family, group, half, type Row, stating, without } from '../source.ts';

/** How low a bore of this size is read: the size less the reading that the correction turns into it. */
function readsLow(size: number, land: number): number {
  const found = rootBetween((reading) => landCorrected(mm(reading), mm(land)) - size, size - land, size);
  return found.ok ? size - found.at : Number.NaN;
}

const UNCONFIRMED =
  'recalled figures that leave the chord beyond 0.3 mm lands: not confirmed, the chord is kept';
const CHORD = 'chord model error at lid sizes';

const calipers = family('calipers', {
  count: 8,
  groups: ['3b_calipers'],
  leftOut: without(
    group('3b_calipers').filter(({ id }) => id !== CHORD && !id.startsWith('small-hole')),
    "a caliper's limits are the turner's own figures, not computed",
  ),
  ours: (row, key) => {
    const chord = row.id === CHORD;
    const [, size, land] = /D=(\d+)(?:mm)?, ?w=([\d.]+)/.exec(chord ? key : row.id) ?? [];
    const low = readsLow(Number(size), Number(land));
    if (chord) return { what: `reads low in a bore, ${key} [um]`, ours: 1000 * low };
    return {
      what: `${row.id} [mm]`,
      ours: low,
      knownMiss: land === '0.5' || land === '0.7' ? UNCONFIRMED : undefined,
    };
  },
});

/** The n-th root of cos x cosh x = -1, found in its half turn. */
function rootOf(n: number): number {
  const root = rootBetween((x) => Math.cos(x) + 1 / Math.cosh(x), (n - 1) * Math.PI, n * Math.PI);
  return root.ok ? root.at : Number.NaN;
}

function barFigure({ id }: Row): number {
  if (id.startsWith('beta')) return rootOf(Number(id[4]));
  if (id === 'lambda1^2') return FIRST_ROOT ** 2;
  const whirl = whirlOf({ diameter: mm(20), length: mm(300), material: ROD_MATERIALS.beech });
  return id.startsWith('wood stub') && whirl.kind === 'whirl' ? whirl.at / 60 : Number.NaN;
}

const cantilever = family('cantilever', {
  count: 10,
  groups: ['4c_cantilever'],
  leftOut: {
    '4c_cantilever/steel 1 m x 50 mm sq, E 210 GPa, rho 7850 -> f1':
      'a warning: the source is wrong by a factor of about 5, the bar gives 41.8 Hz; compared below with that figure',
    '4c_cantilever/simply supported: L 80 in, I 1.3333, w 1.124 lb/in, E 30e6 -> 28.766 Hz':
      'a bar held at both ends, which the program does not work out',
  },
  ours: (row) => ({
    what: row.id,
    ours: barFigure(row),
    knownMiss:
      row.id === 'beta4*L'
        ? 'the root is 10.995541: the source has 10.99557, one digit changed in copying'
        : undefined,
  }),
  more: () => {
    const steel = { bendingStiffness: 210e9 * (0.05 ** 4 / 12), massPerLength: 7850 * 0.05 ** 2 };
    const corrected = stating(
      'the corrected figure beside the wrong row of shared/published.json',
      'DERIVED',
    );
    const solved = stating('cos x cosh x = -1, solved here', 'DERIVED');
    const bar = 'steel bar 1 m long, 50 mm square: first frequency [Hz]';
    return [
      corrected(bar, 41.8, firstFrequency({ length: 1, ...steel }), half(1), 'one decimal'),
      solved('the first root as the program keeps it', rootOf(1), FIRST_ROOT, 5e-9, 'eight decimals'),
    ];
  },
});

/** Metres in a foot, exact. */
const FOOT = 0.3048;
const SPEEDS: Readonly<Record<string, number>> = {
  'sfm = 0.262*dia*rpm': surfaceSpeed(inches(1), turnsPerMinute(1)) / FOOT,
  '60 mm at 1000 rpm, m/min': surfaceSpeed(mm(60), turnsPerMinute(1000)),
};

const speeds = family('speeds', {
  count: 2,
  groups: ['4a_surface_speed', '4b_thread_milling'],
  leftOut: {
    '4a_surface_speed/60 ft/min on 5 in work -> rpm':
      'the program works out no turning speed from a surface speed',
    '4a_surface_speed/rpm = 3.820*sfm/dia': 'the same',
    '4a_surface_speed/100 mm at 20 mm/min -> 5 min':
      'a feed that the hand gives; the program works out no such time',
    '4b_thread_milling': 'a feed along the helix that the hand gives; the program works out none',
  },
  ours: ({ id }) => ({ what: id, ours: SPEEDS[id] ?? Number.NaN }),
});

export const LATHE = [calipers, cantilever, speeds];
