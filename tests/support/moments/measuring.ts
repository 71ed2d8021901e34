// Moments of the stages that measure: zero, hollow, bore size, spigot.
import type { Setup } from '../../../src/core/bench/setup.ts';
import type { Bench } from '../../../src/core/bench/state.ts';
import { mm, tpi } from '../../../src/core/units.ts';
import { played, Table } from '../bench.ts';
import { atSpigot, bored, type Moments, opened, pushedOn, rock, withSpigot } from './begun.ts';

/** The target of a bore of 42.30 mm at 16 TPI with grooves 1 mm deep. */
const TARGET = 42.3 + 1.1;

const inches: Setup = { ...bored, unit: 'in' };
const shallow: Setup = {
  ...bored,
  pitch: { length: tpi(32), given: { kind: 'tpi', threads: 32 } },
  depth: { female: mm(0.1), male: mm(0.1) },
};

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
const disagreeing = (): Table => rocked(42.3, 42.12, 42.41, 42.2, 42.33, 42.08, 42.38);

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
  'zero-nothing': () => opened().play('@zero').bench,
  'zero-no-board': () => played('@zero', bored).bench,
  'zero-open': () => opened().play('@zero 12.4x3').bench,
  'zero-steady': () => opened().play('@zero 0.01x6').bench,
  'zero-wanders': () => opened().play('@zero 0.01x3 0.05x2 0.02x2').bench,
  'zero-refused': () => opened().play('@zero 0.01x3 0.05x2 keep wait:1000').bench,
  'zero-kept': () => opened().play('@zero 0.01x6 keep wait:1000').bench,
  'zero-doubted': () => opened().play('@zero 0.01x6 keep @bore-size restart wait:1000 @zero').bench,
  'zero-stale': () => opened().play('@zero 0.01x6 wait:3500').bench,
  'zero-ring': () => rock(opened().play('@zero 0.01x6 keep =20'), 19.98, 1).bench,
  'zero-ring-agreed': () => rock(opened().play('@zero 0x6 keep =20'), 19.98, 6).bench,
  'hollow-nothing': () => opened().play('@hollow').bench,
  'hollow-going': () => opened().play('@hollow 39.86x6').bench,
  'hollow-moving': () => opened().play('@hollow 39.86x2 40.2x1').bench,
  'hollow-wider': () => opened().play('@hollow 42.52x6').bench,
  'hollow-typed': () => played('@hollow =39.86', bored).bench,
  'hollow-mouth-taken': () => opened().play('@hollow 42.31x6 keep wait:1000').bench,
  'hollow-tapered': () => opened().play('@hollow 42.31x6 keep 42.19x6 keep wait:1000').bench,
  'hollow-parallel': () => opened().play('@hollow 42.31x6 keep 42.3x6 keep wait:1000').bench,
};

/** Rings of 40 mm measured one after another, each as if it were of this size. */
function practised(...sizes: readonly number[]): Table {
  const table = begun().type('40.00');
  for (const size of sizes) rock(table, size, 6).act('keep', 'keep');
  return table;
}
const alone = ({ bench }: Table): Bench => ({ ...bench, job: null });
const begun = (table = opened()): Table => table.do({ kind: 'practice-opened', measuring: undefined });
const told = (last: number, ...earlier: readonly number[]): Bench =>
  alone(rock(practised(...earlier), last, 6).play('keep wait:1000'));

export const PRACTICE: Moments = {
  'practice-no-board': () => alone(begun(new Table(bored))),
  'practice-which-ring': () => alone(begun().reads(12, 3)),
  'practice-rocking': () => alone(rock(practised(), 40, 2)),
  'practice-told': () => told(40),
  'practice-scored': () => told(40, 40, 39.97, 40.02),
  'practice-help': () => alone(begun().play('help')),
};

export const BORE_SIZE: Moments = {
  'bore-size-nothing': () => played('@bore-size', bored).bench,
  'bore-size-waiting': () => opened().play('@bore-size').bench,
  'bore-size-ready': () => opened().play('@bore-size 41.2x5').bench,
  'bore-size-rocking': () => rock(opened().to('bore size'), 42.3, 3).bench,
  'bore-size-agreed': () => rock(opened().to('bore size'), 42.3, 6).pass(1000).bench,
  'bore-size-disagree': () => disagreeing().bench,
  'bore-size-beyond': () => rocked(42.3, 42.3, 42.3, 42.3, 42.44, 42.3, 42.3).bench,
  'bore-size-unit': () => rock(rock(opened().to('bore size'), 42.3, 2), 42.3, 1, 'in').bench,
  'bore-size-refused': () => rock(opened().to('bore size'), 42.3, 2).act('keep').pass(1000).bench,
  'bore-size-doubted': () => disagreeing().act('keep').pass(1000).bench,
  'bore-size-stale': () => rock(opened().to('bore size'), 42.3, 2).pass(4500).bench,
  'bore-size-taken': () => boreKept().bench,
  'bore-size-across': () => rock(boreKept().act('again'), 42.18, 1).bench,
  'bore-size-across-agreed': () => rock(boreKept().act('again'), 42.18, 6).pass(1000).bench,
  'bore-size-oval': () => ovalBore().bench,
  'bore-size-typed': () => played('@bore-size =42.28 =42.30 ~42.3', bored).bench,
  'bore-size-typed-taken': () => played('@bore-size =42.28 =42.30 =42.3 keep wait:1000', bored).bench,
  'bore-size-bad-number': () => played('@bore-size =4..2 wait:1000', bored).bench,
  'bore-size-inches': () => rock(played('board @bore-size open', inches), 42.3, 6, 'in').pass(1000).bench,
  refused: () => opened().play('@bore-size keep wait:1000').bench,
};

export const SPIGOT: Moments = {
  'spigot-target': () => spigotOver(null),
  'spigot-far': () => spigotOver(1.84),
  'spigot-near': () => spigotOver(0.26),
  'spigot-moving': () => atSpigot().play('43.6x3 43.41x1').bench,
  'spigot-at': () => spigotOver(0.01),
  'spigot-at-sharp': () => atSpigot().turns(TARGET, 6).pass(1000).bench,
  'spigot-at-below': () => spigotOver(-0.02),
  'spigot-under': () => spigotOver(-0.08),
  'spigot-past': () => spigotOver(-0.31),
  'spigot-taken': () => withSpigot().pass(1000).bench,
  'spigot-end': () => shaped({}).play('again again 43.49x6').bench,
  'spigot-across-typed': () => shaped({}).play('again =43.34').bench,
  'spigot-tapered': () => shaped({ end: 43.47 }).bench,
  'spigot-oval': () => shaped({ across: 43.34 }).bench,
  'spigot-oval-tapered': () => shaped({ across: 43.34, end: 43.53 }, ovalBore().to('spigot')).bench,
  'spigot-odd-shape': () => shaped({}).play('again 41.2x6 keep').bench,
  'spigot-taken-loose': () => atSpigot().turns(43.1, 6).act('keep', 'keep').pass(1000).bench,
  'spigot-refused': () => atSpigot().play('43.6x3 43.41x1 keep wait:1000').bench,
  'spigot-stale': () => atSpigot().turns(43.41, 6).pass(3500).bench,
  'spigot-typed': () => played('@bore-size =42.3 keep @spigot =43.7 wait:1000', bored).bench,
  'spigot-inches': () => played('@bore-size =1.665 keep @spigot =1.715', inches).bench,
  'spigot-learned': () => learned().bench,
  'help-learned': () => learned().play('help').bench,
  'spigot-no-bore': () => played('@spigot', bored).bench,
  'spigot-no-fit': () => opened(shallow).play('@bore-size =42.3 keep @spigot wait:1000').bench,
  'spigot-flash': () => atSpigot().turns(43.41, 6).bench,
  plain: () => atSpigot(pushedOn).turns(42.6, 6).pass(1000).bench,
  'plain-at': () => atSpigot(pushedOn).turns(42.35, 6).pass(1000).bench,
};
