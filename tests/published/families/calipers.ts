// Inside jaws in a small bore: what their lands make them read low, by the chord that the correction undoes.
import { landCorrected } from '../../../src/core/measure/corrections.ts';
import { mm } from '../../../src/core/units.ts';
import type { Check } from '../check.ts';
import { figure, group, halfDigit, type Row, statusOf } from '../source.ts';

export const groups = ['3b_calipers'];
export const count = 8;

/** How low a bore of this size is read: the size less the reading that the correction turns into it. */
function readsLow(size: number, land: number): number {
  let [low, high] = [size - land, size];
  for (let halvings = 0; halvings < 60; halvings++) {
    const middle = (low + high) / 2;
    if (landCorrected(mm(middle), mm(land)) < size) low = middle;
    else high = middle;
  }
  return size - low;
}

const UNCONFIRMED =
  'recalled figures that leave the chord beyond 0.3 mm lands: not confirmed, the chord is kept';
const MISSES = ['small-hole inside-jaw error, D=5, w=0.5', 'small-hole inside-jaw error, D=5, w=0.7'];

function small(row: Row): readonly Check[] {
  const [, size, land] = /D=(\d+), w=([\d.]+)/.exec(row.id) ?? [];
  if (size === undefined || land === undefined) return [];
  return [
    {
      ...(MISSES.includes(row.id) ? { knownMiss: UNCONFIRMED } : {}),
      what: `${row.id} [mm]`,
      source: row.source ?? 'none named',
      status: statusOf(row),
      expected: figure(row, 'd'),
      ours: readsLow(Number(size), Number(land)),
      allowed: halfDigit(row, 'd'),
      why: 'half of the last printed digit',
      truth: `3b_calipers/${row.id}/d`,
    },
  ];
}

function chords(row: Row): readonly Check[] {
  return Object.keys(row.values).map((key) => {
    const [, size, land] = /D=(\d+)mm,w=([\d.]+)/.exec(key) ?? [];
    return {
      what: `reads low in a bore, ${key} [um]`,
      source: row.source ?? 'none named',
      status: statusOf(row),
      expected: figure(row, key),
      ours: 1000 * readsLow(Number(size), Number(land)),
      allowed: 0.005 + 1e-9,
      why: 'half of the last printed digit',
      truth: `3b_calipers/${row.id}/${key}`,
    };
  });
}

const CHORD = 'chord model error at lid sizes';
const others = group('3b_calipers').filter((row) => row.id !== CHORD && !row.id.startsWith('small-hole'));

export const leftOut = Object.fromEntries(
  others.map((row) => [
    `3b_calipers/${row.id}`,
    "a caliper's limits are the turner's own figures, not computed",
  ]),
);

export const rows = (): readonly Check[] =>
  group('3b_calipers').flatMap((row) => (row.id === CHORD ? chords(row) : small(row)));
