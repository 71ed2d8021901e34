// Published threads: each diameter and ratio from the form's heights and the fit's limits.
import { fitOf, limitsOf } from '../../../src/core/thread/fit.ts';
import { basicHeight, sharpHeight, type Tip, tipLoss } from '../../../src/core/thread/form.ts';
import type { Pair } from '../../../src/core/thread/pair.ts';
import { wantedDepth } from '../../../src/core/thread/passes.ts';
import { type Angle, degrees, inches, inInches, type Length, mm, tpi } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { family, figure, type Ours, type Row, sourceOf, stating } from '../source.ts';

type Figures = Readonly<Record<string, Readonly<Record<string, number>>>>;
/** The figure at a row's id and key. */
const at =
  (figures: Figures) =>
  (row: Row, key: string): Ours => ({ ours: figures[row.id]?.[key] ?? Number.NaN });

const [sixty, fiftyFive] = [degrees(60), degrees(55)];
const one = mm(1);
const sharp: Tip = { kind: 'sharp' };

/** Both parts cut to the basic profile of ISO 68-1: 5/8 H deep, flat P/8 in the nut's root and P/4 in the bolt's. */
function basicPair(pitch: Length): Pair {
  const depth = mm((5 / 8) * sharpHeight(pitch, sixty));
  return {
    pitch,
    starts: 1,
    angle: sixty,
    female: { depth, tip: { kind: 'flat', width: mm(pitch / 8) } },
    male: { depth, tip: { kind: 'flat', width: mm(pitch / 4) } },
  };
}

/** Depth and radius as shares of the pitch (BS 84 form; from memory). */
const DEPTH = 0.640327;
const RADIUS = 0.137329;

function whitworthPair(pitch: Length): Pair {
  const groove = { depth: mm(DEPTH * pitch), tip: { kind: 'radius', radius: mm(RADIUS * pitch) } } as const;
  return { pitch, starts: 1, angle: fiftyFive, female: groove, male: groove };
}

const limitOf = (pair: Pair, of: 'flank' | 'root'): number => {
  const limits = limitsOf(pair);
  return limits.kind === 'limits' ? limits[of] : Number.NaN;
};

/** D - D1, the allowance at which basic flanks just touch. */
const basicLimit = (pitch: Length): number => limitOf(basicPair(pitch), 'flank');

/** D - D2: twice the way from the crest to where groove and ridge are equally wide, half of H above the sharp root. */
const pitchLineDrop = ({ pitch, angle, male: { depth, tip } }: Pair): number =>
  2 * (depth + tipLoss(tip, angle) - sharpHeight(pitch, angle) / 2);
const basicDrop = (pitch: Length): number => pitchLineDrop(basicPair(pitch));

const depthOf = (pitch: Length, profile: 'basic' | 'deepest'): number =>
  wantedDepth({ pitch, angle: sixty, tip: sharp, profile });
/** d - d3: twice the deepest ordinary profile. */
const coreDrop = (pitch: Length): number => 2 * depthOf(pitch, 'deepest');

const height = sharpHeight(one, sixty);
const RATIOS: Readonly<Record<string, number>> = {
  'H/P': height,
  '5H/8 /P (H1)': depthOf(one, 'basic'),
  '3H/8 /P': (3 / 8) * height,
  'H/4 /P': height / 4,
  'H/8 /P': height / 8,
  '17H/24 /P (h3)': depthOf(one, 'deepest'),
  'H/6 /P (root radius)': height / 6,
  'D-D1 /P': basicLimit(one),
  'D-D2 /P': basicDrop(one),
  'd-d3 /P': coreDrop(one),
};

/** ISO 68-1: the basic profile's ratios at a pitch of one. */
const iso68 = family('iso68', {
  count: 10,
  groups: ['1a_iso68_ratios'],
  ours: ({ id }) => ({ what: id, ours: RATIOS[id] ?? Number.NaN }),
});

const DROPS: Readonly<Record<string, (pitch: Length) => number>> = {
  D2: basicDrop,
  D1: basicLimit,
  d3: coreDrop,
};

/** ISO 724: pitch and minor diameters of metric threads. */
const iso724 = family('iso724', {
  count: 51,
  groups: ['1b_iso724'],
  ours: (row, key) => ({
    what: `${row.id} ${key} [mm]`,
    source: `${sourceOf(row)}, row ${row.id}`,
    ours: figure(row, 'D') - (DROPS[key]?.(mm(figure(row, 'P'))) ?? Number.NaN),
  }),
});

const pitchOf = (row: Row): Length => tpi(figure(row, 'tpi'));
const below = (row: Row, drop: number): number => figure(row, 'major') - drop / 25.4;
const basicPitch = (row: Row): number => below(row, basicDrop(pitchOf(row)));
const basicMinor = (row: Row): number => below(row, basicLimit(pitchOf(row)));
const inMillimetres = (row: Row, drop: (pitch: Length) => number): Ours => ({
  ours: figure(row, 'major_in') * 25.4 - drop(pitchOf(row)),
  allowed: 0.00005 * 25.4 + 0.001,
  why: 'the source converts from inches rounded to 0.0001, and cuts off after 0.001 mm',
});

/** From major diameter and pitch in inches. */
const UNIFIED: Readonly<Record<string, (row: Row) => Ours>> = {
  pitch_dia: (row) => ({ ours: basicPitch(row) }),
  minor_internal: (row) => ({ ours: basicMinor(row) }),
  minor_external_UNR: (row) => ({
    ours: below(row, (11 / 8) * sharpHeight(pitchOf(row), sixty)),
    allowed: 0.0001,
    why: 'the charts take off a double height cut off after 0.0001 in',
  }),
  pitch_max_3A: (row) => ({ ours: basicPitch(row) }),
  pitch_max_2A: (row) => ({
    ours: basicPitch(row) - figure(row, 'allowance_2A'),
    allowed: 0.0001 + 1e-9,
    why: 'a difference of two figures each rounded to 0.0001 in',
  }),
  minor_internal_min_2B: (row) => ({
    ours: basicMinor(row),
    allowed: 0.0005 + 1e-9,
    why: 'the standard rounds 2B minor limits to 0.001 in',
  }),
  d2_mm: (row) => inMillimetres(row, basicDrop),
  D1_mm: (row) => inMillimetres(row, basicLimit),
  d3_mm: (row) => inMillimetres(row, coreDrop),
};

function threadHeight(row: Row, key: string): Ours {
  const pitch = tpi(Number.parseInt(row.id, 10));
  return {
    what: `${row.id} height ${key} [in]`,
    source: `${sourceOf(row)}, thread height table`,
    ours: inInches(mm(depthOf(pitch, key.startsWith('5H/8') ? 'basic' : 'deepest'))),
  };
}

const INPUT = 'an input of the row above it: the program has no tolerance classes';

/** ASME B1.1: Unified diameters, and the heights table. */
const unified = family('unified', {
  count: 57,
  groups: ['1c_unified', '1c_thread_height_table'],
  leftOut: {
    '1c_unified/15/16-12 UN (limits)/allowance_2A': INPUT,
    '1c_unified/15/16-20 UNEF (limits)/allowance_2A': INPUT,
  },
  ours: (row, key) => {
    if (row.group === '1c_thread_height_table') return threadHeight(row, key);
    const ours = UNIFIED[key]?.(row);
    return (
      ours && {
        ...ours,
        what: `${row.id} ${key} [${key.endsWith('_mm') ? 'mm' : 'in'}]`,
        source: `${sourceOf(row)}, row ${row.id}`,
        knownMiss:
          `${row.id}/${key}` === '3/4-16 UNF/minor_external_UNR'
            ? 'taken for a misprint: the formula beside it, D - 1.19078/n, gives 0.6756, and 0.6763 meets no other'
            : undefined,
      }
    );
  },
});

const WHITWORTH_DROPS: Readonly<Record<string, (pitch: Length) => number>> = {
  /** One whole depth in this form. */
  effective: (pitch) => pitchLineDrop(whitworthPair(pitch)),
  minor: (pitch) => limitOf(whitworthPair(pitch), 'flank'),
};

/** The form's own ratios against the fit, from memory of BS 84. */
function whitworthRatios(): readonly Check[] {
  const ratio = stating('BS 84 form ratios', 'MEMORY');
  const ours = { flank: limitOf(whitworthPair(one), 'flank'), root: limitOf(whitworthPair(one), 'root') };
  const rounded = 'depth and radius are rounded to six digits: up to 4.3e-6';
  const limits = (['flank', 'root'] as const).map((limit) => ({
    ...ratio(`${limit} limit / P with both radii is twice the depth`, 2 * DEPTH, ours[limit], 5e-6, rounded),
    printed: 5e-7,
  }));
  return [...limits, ratio('basic height / P is the depth', DEPTH, basicHeight(one, fiftyFive), 5e-7)];
}

/** BS 84: effective and minor diameters from a pair cut to its depth by its radius, in both parts. */
const whitworth = family('whitworth', {
  count: 28,
  groups: ['1d_whitworth'],
  ours: (row, key) =>
    key === 'ratio'
      ? { what: 'H / P at 55 degrees', ours: sharpHeight(one, fiftyFive) }
      : {
          what: `${row.id} ${key} [in]`,
          source: `${sourceOf(row)}, row ${row.id}`,
          ours: below(row, WHITWORTH_DROPS[key]?.(pitchOf(row)) ?? Number.NaN),
          ...(`${row.id}/${key}` === '1-8 BSW (2nd table)/minor' && {
            allowed: 0.0001,
            why: 'this table was converted through millimetres and back: one last digit',
          }),
        },
  more: whitworthRatios,
});

/** The engagement of a bolt of this size in a hole of that one, as a share. */
function engagement(pitch: Length, bolt: Length, hole: Length): number {
  const fit = fitOf(basicPair(pitch), hole, bolt);
  return 'engagement' in fit ? fit.engagement : Number.NaN;
}

/** The hole whose engagement is this share: size less share times D - D1. */
const hole = (pitch: Length, bolt: Length, share: number): number => bolt - share * basicLimit(pitch);
/** The older rule's whole is 3/4 H twice, today's 5/8 H twice. */
const older = (pitch: Length): number => (3 / 2) * sharpHeight(pitch, sixty);
const sixFifths = (share: number): number => (share * basicLimit(one)) / older(one);
const [quarter, twenty] = [inches(0.25), tpi(20)];

/** Percent of thread: our engagement is the share of today's rule, and the older rule's by six fifths. */
const percentThread = family('percent-thread', {
  count: 7,
  groups: ['1e_percent_thread'],
  ours: at({
    'ANSI B1.1/ISO form: hole = D - 1.08253*pct/100/n': { k: basicLimit(one) },
    'older American National form: drill = D - 0.01299*pct/n': { k: older(one) / 100 },
    '1/4-20, 75 %, 0.01299 rule': { drill: (quarter - 0.75 * older(twenty)) / 25.4 },
    '1/4-20, 75 %, 1.08253 rule': { drill: hole(twenty, quarter, 0.75) / 25.4 },
    '10 mm x 1.5, drill 8.5': {
      'pct_1.08253': 100 * engagement(mm(1.5), mm(10), mm(8.5)),
      'pct_1.29904': 100 * sixFifths(engagement(mm(1.5), mm(10), mm(8.5))),
    },
    'M24x1.5, drill 22.5': { 'pct_1.08253': 100 * engagement(mm(1.5), mm(24), mm(22.5)) },
  }),
});

/** Of a wire of diameter one: from the sharp root to over the wire and back, W (1 + 1/sin(alpha/2)). */
const overWire = (angle: Angle): number => 2 * (tipLoss({ kind: 'radius', radius: mm(0.5) }, angle) + 1);
/** The wire that touches where groove and ridge are equally wide: P / (2 cos(alpha/2)). */
const bestWire = (angle: Angle): number => 1 / (2 * Math.cos(angle / 2));
/** Over the best wires on a basic bolt of major diameter D: D + this. */
const overBest = (pitch: number): number =>
  bestWire(sixty) * pitch * overWire(sixty) - sharpHeight(mm(pitch), sixty) - basicDrop(mm(pitch));

/** Measuring over three wires: constants from our form alone, since a wire in a groove is a nose in it. */
const threeWire = family('three-wire', {
  count: 7,
  groups: ['1f_three_wire'],
  leftOut: {
    '1f_three_wire/derived example M30x1.5, best wire 0.8660/W':
      'the wire of the row above it, rounded to four digits',
  },
  ours: at({
    '60 deg: best wire /P': { k: bestWire(sixty) },
    '60 deg: M = E - 0.86603P + 3W': { k: height },
    '60 deg best wire: M = D + 0.21651P': { k: overBest(1) },
    '55 deg: best wire /P': { k: bestWire(fiftyFive) },
    '55 deg: M = E + 3.16568W - 0.96049P': { kW: overWire(fiftyFive), kP: sharpHeight(one, fiftyFive) },
    'derived example M30x1.5, best wire 0.8660': { M_over_wires: 30 + overBest(1.5) },
  }),
});

export const THREADS = [iso68, iso724, percentThread, threeWire, unified, whitworth];
