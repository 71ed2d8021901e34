// ISO 965-1: tolerances by the standard's own formulas, rounded as it rounds. The program sets no tolerances: these rows say how far
// the formulas give the table, so that a turner's clearances can be held against metal's. The table wins where they differ.
import type { Check } from '../check.ts';
import { figure, group, type Row, sourceOf, statusOf } from '../source.ts';

export const groups = ['1g_iso965'];
export const count = 20;

/** The R40 series of preferred numbers in one decade (ISO 3; from memory). */
const R40 = [
  1, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3, 3.15,
  3.35, 3.55, 3.75, 4, 4.25, 4.5, 4.75, 5, 5.3, 5.6, 6, 6.3, 6.7, 7.1, 7.5, 8, 8.5, 9, 9.5, 10,
];

function preferred(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  const apart = (number: number): number => Math.abs(Math.log((number * decade) / value));
  return decade * R40.reduce((near, number) => (apart(number) < apart(near) ? number : near));
}

/** Fundamental deviations in micrometres, P in mm (ISO 965-1:1998 clause 13). */
const DEVIATION: Readonly<Record<string, number>> = { e: 50, f: 30, g: 15 };
/** 90 P^0.4 d^0.1 with d the geometric mean of the size range (ISO 965-1:1998 clause 13). */
const pitchTolerance = (pitch: number, from: number, to: number): number =>
  90 * pitch ** 0.4 * Math.sqrt(from * to) ** 0.1;

function ours(id: string): number {
  const pitch = Number(/P=([\d.]+)/.exec(id)?.[1]);
  const position = /^es\((.)\)/.exec(id)?.[1];
  if (position) return preferred((DEVIATION[position] ?? Number.NaN) + 11 * pitch);
  if (id.startsWith('Td(6)')) return preferred(180 * pitch ** (2 / 3) - 3.15 / Math.sqrt(pitch));
  const [, which, from, to] = /^(TD2|Td2)\(6\) ([\d.]+)-([\d.]+) /.exec(id) ?? [];
  const external = pitchTolerance(pitch, Number(from), Number(to));
  return preferred(which === 'TD2' ? 1.32 * external : external);
}

const MISSES: Readonly<Record<string, string>> = {
  'es(f) P=2': 'the table keeps the formula itself, 52, and not the preferred number 53',
  'TD2(6) 11.2-22.4 P=1.5': 'the formula gives 184.2, nearest 180; the table has the next preferred number',
  'TD2(6) 5.6-11.2 P=1.5 (M10 6H: 9.206-9.026)':
    'the formula gives 171.8, nearest 170; the table has the next preferred number',
};

const check = (row: Row): Check => ({
  ...(row.id in MISSES ? { knownMiss: MISSES[row.id] ?? '' } : {}),
  what: `${row.id} [um]`,
  source: sourceOf(row),
  status: statusOf(row),
  expected: figure(row, 'um'),
  ours: ours(row.id),
  allowed: 0.5 + 1e-9,
  why: 'half a micrometre: the table prints whole ones',
  truth: `1g_iso965/${row.id}/um`,
});

export const rows = (): readonly Check[] => group('1g_iso965').map(check);
