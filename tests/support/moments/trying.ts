// Moments of the trial and of the record.
import type { Trialled } from '../../../src/core/bench/state.ts';
import type { Teaching } from '../../../src/core/bench/teaching.ts';
import { humidityPercent, mm } from '../../../src/core/units.ts';
import { played, type Table } from '../bench.ts';
import { atSpigot, bored, type Moments, opened, pushedOn, rock, withSpigot } from './begun.ts';

/** At the trial, with this word chosen. */
function choosing(word: Trialled, table: Table = withSpigot()): Table {
  table.to('trial');
  while (table.bench.trialled !== word) table.act('again');
  return table;
}
const tried = (word: Trialled, table?: Table): Table => choosing(word, table).act('keep').pass(1000);

/** A pair made for a range of humidity, its spigot turned to this size. */
function forSeason(from: number, to: number, spigot: number): Table {
  const season = { from: humidityPercent(from), to: humidityPercent(to), remains: mm(0.15) };
  return atSpigot({ ...bored, wood: 'maple, sugar', season })
    .turns(spigot, 6)
    .act('keep', 'keep');
}

/** Both threads cut to depth by the board's count. */
const cutPair = (): Table =>
  withSpigot().play('@bore-thread keep detents:5 keep @spigot-thread keep detents:5 keep');

/** From the zero to a trial that runs, with the grain seen and a note. */
function recorded(): Table {
  const table = rock(opened().play('@zero 0.01x5 keep @bore-size'), 42.3, 6).play('keep @spigot');
  table.turns(43.41, 6).play('keep @bore-thread keep detents:5 keep @trial =3 @record =70');
  return table.play('note =Waxed;_a_touch_more_clearance_next_time.');
}

export const TRIAL: Moments = {
  'trial-first': () => opened().to('trial').pass(1000).bench,
  'trial-choosing': () => choosing('seized').pass(1000).bench,
  'trial-seized': () => tried('seized').bench,
  'trial-tight': () => tried('tight').bench,
  'trial-tight-cut': () => tried('tight', cutPair()).bench,
  'trial-running': () => tried('running').bench,
  'trial-loose': () => tried('loose').bench,
  'trial-loose-in-season': () => tried('loose', forSeason(40, 55, 43.3)).bench,
  'trial-running-in-season': () => tried('running', forSeason(35, 60, 43.46)).bench,
  'trial-relieving': () => choosing('crests relieved', tried('tight')).bench,
  'trial-relieved': () => tried('crests relieved', tried('tight')).bench,
  'trial-reworked': () =>
    tried('tight', cutPair()).play('@spigot-thread detents:1 keep @trial wait:1000').bench,
  'trial-plain': () => tried('tight', withPlainSpigot()).bench,
};

/** A plain lid's bore and spigot. */
function withPlainSpigot(): Table {
  const table = rock(opened(pushedOn).to('bore size'), 42.3, 6).act('keep').to('spigot');
  return table.turns(42.35, 6).act('keep');
}

/** The end of a lesson in which the bore was kept 0.2 mm small and the spigot swelled. */
const TOLD: Teaching = {
  pace: 1,
  paused: false,
  mishaps: ['small-bore', 'tight-trial'],
  truth: { bore: mm(42.51), spigot: mm(43.72), depth: { female: mm(0.98), male: mm(1.01) } },
};

export const RECORD: Moments = {
  record: () => recorded().pass(1000).bench,
  'record-noted': () => tried('tight', cutPair()).to('record').pass(1000).bench,
  'record-empty': () => played('@record wait:1000', bored).bench,
  'record-runs-closed': () => recorded().act('keep').pass(1000).bench,
  'record-given-up': () => tried('loose').to('record').act('keep').pass(1000).bench,
  'record-told': () =>
    tried('tight', cutPair()).to('record').act('keep').do({ kind: 'teaching-changed', teaching: TOLD }).bench,
  'record-closed': () => played('@record keep', bored).bench,
};
