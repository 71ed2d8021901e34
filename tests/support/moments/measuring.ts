// Moments of the stages that measure: zero, hollow, bore size, spigot.

import type { Bench } from '../../../src/core/bench/state.ts';
import { millis, mm, tpi } from '../../../src/core/units.ts';
import { Table } from '../bench.ts';
import { atSpigot, bored, type Moments, opened, pushedOn, rock, withSpigot } from './begun.ts';

/** The target of a bore of 42.30 mm at 16 TPI with grooves 1 mm deep. */
const TARGET = 42.3 + 1.1;

/** At the spigot, with a reading of this many millimetres over the target. */
function spigotOver(over: number | null): Bench {
  const table = atSpigot();
  if (over !== null) table.turns(Math.round((TARGET + over) * 100) / 100, 6);
  return table.pass(1000).bench;
}

/** A second job of a setup whose first pair came out tighter than computed. */
function learned(): Table {
  const reasons = ['Quince box: computed 0.15 mm, tight; moved the bias -0.060 mm'];
  return atSpigot({ ...bored, learned: { shift: mm(-0.06), spread: mm(0.05), reasons } }).pass(1000);
}

/** Tops that lie apart: bores of different sizes rocked one after the other. */
function rocked(...diameters: readonly number[]): Table {
  const table = opened().to('bore size');
  for (const diameter of diameters) rock(table, diameter, 1);
  return table;
}

const boreKept = (): Table => rock(opened().to('bore size'), 42.3, 6).act('keep').pass(1200);
const ovalBore = (): Table => rock(boreKept().act('again'), 42.18, 6).act('keep').pass(1200);

/** A spigot kept at its shoulder, then measured at its end or a quarter turn round, or both. */
function shaped(sizes: { readonly end?: number; readonly across?: number }, table = atSpigot()): Table {
  table.turns(43.41, 6).act('keep');
  if (table.bench.notice?.kind === 'question') table.act('keep');
  table.pass(1000);
  for (const [place, size] of Object.entries(sizes)) {
    while (table.bench.place !== place) table.act('again');
    table.reads(size, 6).act('keep').pass(1000);
  }
  return table;
}

export const ZERO_AND_HOLLOW: Moments = {
  'zero-nothing': () => opened().to('zero').bench,
  'zero-no-board': () => new Table(bored).to('zero').bench,
  'zero-open': () => opened().to('zero').reads(12.4, 3).bench,
  'zero-steady': () => opened().to('zero').reads(0.01, 6).bench,
  'zero-wanders': () => opened().to('zero').reads(0.01, 3).reads(0.05, 2).reads(0.02, 2).bench,
  'zero-refused': () => opened().to('zero').reads(0.01, 3).reads(0.05, 2).act('keep').pass(1000).bench,
  'zero-kept': () => opened().to('zero').reads(0.01, 6).act('keep').pass(1000).bench,
  'zero-doubted': () => {
    const table = opened().to('zero').reads(0.01, 6).act('keep').to('bore size');
    return table
      .do({ kind: 'board-restarted', heardAt: millis(3000) })
      .pass(1000)
      .to('zero').bench;
  },
  'zero-stale': () => opened().to('zero').reads(0.01, 6).pass(3500).bench,
  'zero-ring': () => rock(opened().to('zero').reads(0.01, 6).act('keep').type('20'), 19.98, 1).bench,
  'zero-ring-agreed': () => rock(opened().to('zero').reads(0, 6).act('keep').type('20'), 19.98, 6).bench,
  'hollow-nothing': () => opened().to('hollow').bench,
  'hollow-going': () => opened().to('hollow').reads(39.86, 6).bench,
  'hollow-moving': () => opened().to('hollow').reads(39.86, 2).reads(40.2, 1).bench,
  'hollow-wider': () => opened().to('hollow').reads(42.52, 6).bench,
  'hollow-typed': () => new Table(bored).to('hollow').type('39.86').bench,
  'hollow-mouth-taken': () => opened().to('hollow').reads(42.31, 6).act('keep').pass(1000).bench,
  'hollow-tapered': () =>
    opened().to('hollow').reads(42.31, 6).act('keep').reads(42.19, 6).act('keep').pass(1000).bench,
  'hollow-parallel': () =>
    opened().to('hollow').reads(42.31, 6).act('keep').reads(42.3, 6).act('keep').pass(1000).bench,
};

/** Rings of 40 mm measured one after another, each as if it were of this size. */
function practised(...sizes: readonly number[]): Table {
  const table = opened().do({ kind: 'practice-opened', measuring: undefined }).type('40.00');
  for (const size of sizes) rock(table, size, 6).act('keep', 'keep');
  return table;
}
const alone = ({ bench }: Table): Bench => ({ ...bench, job: null });
const begun = (): Table => opened().do({ kind: 'practice-opened', measuring: undefined });
const told = (...sizes: readonly number[]): Bench => {
  const table = practised(...sizes.slice(0, -1));
  return alone(
    rock(table, sizes.at(-1) ?? 40, 6)
      .act('keep')
      .pass(1000),
  );
};

export const PRACTICE: Moments = {
  'practice-no-board': () => alone(new Table(bored).do({ kind: 'practice-opened', measuring: undefined })),
  'practice-which-ring': () => alone(begun().reads(12, 3)),
  'practice-rocking': () => alone(rock(practised(), 40, 2)),
  'practice-told': () => told(40),
  'practice-scored': () => told(40, 39.97, 40.02, 40),
  'practice-help': () => alone(begun().do({ kind: 'help-switched' })),
};

export const BORE_SIZE: Moments = {
  'bore-size-nothing': () => new Table(bored).to('bore size').bench,
  'bore-size-waiting': () => opened().to('bore size').bench,
  'bore-size-ready': () => opened().to('bore size').reads(41.2, 5).bench,
  'bore-size-rocking': () => rock(opened().to('bore size'), 42.3, 3).bench,
  'bore-size-agreed': () => rock(opened().to('bore size'), 42.3, 6).pass(1000).bench,
  'bore-size-disagree': () => rocked(42.3, 42.12, 42.41, 42.2, 42.33, 42.08, 42.38).bench,
  'bore-size-beyond': () => rocked(42.3, 42.3, 42.3, 42.3, 42.44, 42.3, 42.3).bench,
  'bore-size-unit': () => rock(rock(opened().to('bore size'), 42.3, 2), 42.3, 1, 'in').bench,
  'bore-size-refused': () => rock(opened().to('bore size'), 42.3, 2).act('keep').pass(1000).bench,
  'bore-size-doubted': () =>
    rocked(42.3, 42.12, 42.41, 42.2, 42.33, 42.08, 42.38).act('keep').pass(1000).bench,
  'bore-size-stale': () => rock(opened().to('bore size'), 42.3, 2).pass(4500).bench,
  'bore-size-taken': () => rock(opened().to('bore size'), 42.3, 6).act('keep').pass(1200).bench,
  'bore-size-across': () => rock(boreKept().act('again'), 42.18, 1).bench,
  'bore-size-across-agreed': () => rock(boreKept().act('again'), 42.18, 6).pass(1000).bench,
  'bore-size-oval': () => ovalBore().bench,
  'bore-size-typed': () =>
    new Table(bored).to('bore size').type('42.28').type('42.30').do({ kind: 'typed', text: '42.3' }).bench,
  'bore-size-typed-taken': () =>
    new Table(bored).to('bore size').type('42.28').type('42.30').type('42.3').act('keep').pass(1000).bench,
  'bore-size-bad-number': () => new Table(bored).to('bore size').type('4..2').pass(1000).bench,
  'bore-size-inches': () => {
    const table = new Table({ ...bored, unit: 'in' }).board().to('bore size');
    table.do({ kind: 'link-opened', port: '/dev/ttyUSB0', heardAt: millis(0) });
    return rock(table, 42.3, 6, 'in').pass(1000).bench;
  },
  refused: () => opened().to('bore size').act('keep').pass(1000).bench,
};

export const SPIGOT: Moments = {
  'spigot-target': () => spigotOver(null),
  'spigot-far': () => spigotOver(1.84),
  'spigot-near': () => spigotOver(0.26),
  'spigot-moving': () => atSpigot().reads(43.6, 3).reads(43.41, 1).bench,
  'spigot-at': () => spigotOver(0.01),
  'spigot-at-sharp': () => atSpigot().turns(TARGET, 6).pass(1000).bench,
  'spigot-at-below': () => spigotOver(-0.02),
  'spigot-under': () => spigotOver(-0.08),
  'spigot-past': () => spigotOver(-0.31),
  'spigot-taken': () => withSpigot().pass(1000).bench,
  'spigot-end': () => shaped({}).act('again', 'again').reads(43.49, 6).bench,
  'spigot-across-typed': () => shaped({}).act('again').type('43.34').bench,
  'spigot-tapered': () => shaped({ end: 43.47 }).bench,
  'spigot-oval': () => shaped({ across: 43.34 }).bench,
  'spigot-oval-tapered': () => shaped({ across: 43.34, end: 43.53 }, ovalBore().to('spigot')).bench,
  'spigot-odd-shape': () => shaped({}).act('again').reads(41.2, 6).act('keep').bench,
  'spigot-taken-loose': () => atSpigot().turns(43.1, 6).act('keep', 'keep').pass(1000).bench,
  'spigot-refused': () => atSpigot().reads(43.6, 3).reads(43.41, 1).act('keep').pass(1000).bench,
  'spigot-stale': () => atSpigot().turns(43.41, 6).pass(3500).bench,
  'spigot-typed': () =>
    new Table(bored).to('bore size').type('42.3').act('keep').to('spigot').type('43.7').pass(1000).bench,
  'spigot-inches': () => {
    const inches = { ...bored, unit: 'in' } as const;
    return new Table(inches).to('bore size').type('1.665').act('keep').to('spigot').type('1.715').bench;
  },
  'spigot-learned': () => learned().bench,
  'help-learned': () => learned().do({ kind: 'help-switched' }).bench,
  'spigot-no-bore': () => new Table(bored).to('spigot').bench,
  'spigot-no-fit': () => {
    const fine = { length: tpi(32), given: { kind: 'tpi', threads: 32 } } as const;
    const table = opened({ ...bored, pitch: fine, depth: { female: mm(0.1), male: mm(0.1) } });
    return table.to('bore size').type('42.3').act('keep').to('spigot').pass(1000).bench;
  },
  'spigot-flash': () => atSpigot().turns(43.41, 6).bench,
  plain: () => atSpigot(pushedOn).turns(42.6, 6).pass(1000).bench,
  'plain-at': () => atSpigot(pushedOn).turns(42.35, 6).pass(1000).bench,
};
