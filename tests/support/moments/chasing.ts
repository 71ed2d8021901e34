// Moments of threads chased by hand: strokes, flats, crests, and the trial that says what was not measured.
import type { Setup } from '../../../src/core/bench/setup.ts';
import { Table } from '../bench.ts';
import { bored, type Moments, opened, rock } from './begun.ts';

const { feed: _feed, ...feedless } = bored;
export const byHand: Setup = { ...feedless, byHand: true };

export function strokes(table: Table, count: number): Table {
  for (let at = 0; at < count; at++) table.do({ kind: 'detent-keyed', by: 1 });
  return table;
}

/** No board on the line. */
const atBore = (count = 0, setup: Setup = byHand): Table =>
  strokes(new Table(setup).to('bore thread'), count);
/** Bore rocked, its thread kept as `bore` makes it, the spigot read. */
function atSpigotThread(bore: (table: Table) => Table = (table) => strokes(table, 14).type('0.45')): Table {
  const table = rock(bore(opened(byHand).to('bore thread')).to('bore size'), 42.3, 6).act('keep');
  return table.to('spigot').turns(43.41, 6).act('keep').to('spigot thread');
}
const byTrial = (table: Table): Table => strokes(table, 14).act('keep');

export const CHASING: Moments = {
  'chased-start': () => atBore().pass(1000).bench,
  'chased-strokes': () => atBore(9).pass(1000).bench,
  'chased-flat-shallow': () => atBore(9).type('0.8').pass(1000).bench,
  'chased-strokes-left': () => strokes(atBore(9).type('0.8'), 2).pass(1000).bench,
  'chased-flat-full': () => atBore(14).type('0.45').pass(1000).bench,
  'chased-flat-point': () => atBore(20).type('0').pass(1000).bench,
  'chased-flat-inch': () =>
    atBore(14, { ...byHand, unit: 'in' })
      .type('0.018')
      .pass(1000).bench,
  'chased-by-trial': () => atBore(12).act('keep').pass(1000).bench,
  'chased-uncounted': () => atBore().act('keep').pass(1000).bench,
  'chased-spigot-stage': () =>
    rock(byTrial(opened(byHand).to('bore thread')).to('bore size'), 42.3, 6)
      .act('keep')
      .to('spigot')
      .pass(1000).bench,
  'chased-spigot-past': () =>
    rock(byTrial(opened(byHand).to('bore thread')).to('bore size'), 42.3, 6)
      .act('keep')
      .to('spigot')
      .turns(42.9, 6).bench,
  'chased-spigot-thread': () => strokes(atSpigotThread(), 6).pass(1000).bench,
  'chased-crests-read': () => strokes(atSpigotThread(), 20).reads(43.2, 6).bench,
  'chased-crests-kept': () => strokes(atSpigotThread(), 20).reads(43.2, 6).act('keep').pass(1000).bench,
  'chased-crests-point': () => strokes(atSpigotThread(), 20).type('0').pass(1000).bench,
  'chased-both-measured': () => strokes(atSpigotThread(), 15).type('0.4').pass(1000).bench,
  'chased-trial-measured': () => strokes(atSpigotThread(), 15).type('0.4').to('trial').pass(1000).bench,
  'chased-trial-tight': () => byTrial(atSpigotThread(byTrial)).to('trial').type('2').pass(1000).bench,
  'chased-record': () => byTrial(atSpigotThread()).to('trial').type('3').to('record').pass(1000).bench,
  'help-chased-bore': () => atBore().do({ kind: 'help-switched' }).bench,
  'help-chased-spigot': () => atSpigotThread().do({ kind: 'help-switched' }).bench,
};
