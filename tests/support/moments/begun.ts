// How the moments of the gallery begin: a job on the bench, a board that speaks, jaws rocked in a bore.
import type { Setup } from '../../../src/core/bench/setup.ts';
import type { Bench } from '../../../src/core/bench/state.ts';
import { type LengthUnit, millis, mm } from '../../../src/core/units.ts';
import { Table, threaded } from '../bench.ts';
import { chordOf } from '../readings.ts';

export type Moments = { readonly [moment: string]: () => Bench };

export const bored: Setup = {
  ...threaded,
  name: 'Pear box with lid',
  plannedBore: mm(42.3),
  depth: { female: mm(1), male: mm(1) },
};
export const pushedOn: Setup = { ...bored, fit: 'plain', wanted: mm(-0.05) };

/** Rocks the jaws in a bore: chords of it, eight a second, each swing past the widest place and back. */
export function rock(table: Table, diameter: number, swings: number, unit: LengthUnit = 'mm'): Table {
  const perSwing = 13;
  for (let count = 0; count < swings * perSwing; count++) {
    const off = 2.4 * Math.sin((Math.PI * (count + 0.3)) / perSwing - Math.PI / 2);
    const chord = chordOf(diameter, off);
    const shown = unit === 'mm' ? Math.round(chord * 100) / 100 : Math.round(chord / 25.4 / 0.0005) * 0.0005;
    table.reads(shown, 1, unit);
  }
  return table;
}

/** A job with a board on the line, a second later. */
export const opened = (setup: Setup = bored): Table => {
  const table = new Table(setup).board();
  table.do({ kind: 'link-opened', port: '/dev/ttyUSB0', heardAt: millis(0) });
  return table.pass(1000);
};

/** The bore rocked and taken, and on to the spigot. */
export const atSpigot = (setup: Setup = bored): Table =>
  rock(opened(setup).to('bore size'), 42.3, 6).act('keep').pass(1000).to('spigot');

/** Bore and spigot taken. */
export const withSpigot = (setup: Setup = bored): Table => atSpigot(setup).turns(43.41, 6).act('keep');
