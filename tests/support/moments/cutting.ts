// Moments of the two thread stages: touch-off, detents down to depth, the finish, and every way the depth is in doubt; then threads
// chased by hand: strokes, flats, crests, and the trial that says what was not measured.

import type { Setup } from '../../../src/core/bench/setup.ts';
import type { Bench } from '../../../src/core/bench/state.ts';
import { millis, mm } from '../../../src/core/units.ts';
import { Table } from '../bench.ts';
import { bored, type Moments, opened, rock, withSpigot } from './begun.ts';

type Thread = 'bore thread' | 'spigot thread';

/** A thread stage after touch-off, the cutter this many detents deep. */
function cutTo(stage: Thread, detents: number, setup: Setup = bored): Table {
  const table = withSpigot(setup).to(stage).act('keep');
  for (let at = 1; at <= detents; at++) table.feed(at);
  return table;
}
const cutting = (stage: Thread, detents: number, setup?: Setup): Bench =>
  cutTo(stage, detents, setup).pass(1000).bench;

const crumbly: Setup = { ...bored, hardens: true };
const swift: Setup = { ...bored, cutter: { ...bored.cutter, topSpeed: 8000 } };
const { feed: _feed, ...feedless } = bored;

/** Counted by key: no board on the line. */
function keyed(detents: number): Table {
  const table = new Table(bored).to('bore thread').act('keep');
  for (let at = 0; at < detents; at++) table.do({ kind: 'detent-keyed', by: 1 });
  return table;
}

export const THREADS: Moments = {
  'bore-thread-start': () => withSpigot().to('bore thread').pass(1000).bench,
  'bore-thread-touched': () => cutting('bore thread', 0),
  'bore-thread-cutting': () => cutting('bore thread', 3),
  'bore-thread-speed': () => cutting('bore thread', 2, swift),
  'bore-thread-last': () => cutting('bore thread', 4),
  'bore-thread-full': () => cutting('bore thread', 5),
  'bore-thread-taken': () => cutTo('bore thread', 5).act('keep').pass(1000).bench,
  'bore-thread-over': () => cutting('bore thread', 6),
  'bore-thread-over-first': () => {
    const table = opened().to('bore thread').act('keep');
    for (let at = 1; at <= 6; at++) table.feed(at);
    return table.pass(1000).bench;
  },
  'bore-thread-harden': () => cutting('bore thread', 4, crumbly),
  'bore-thread-hardened': () => cutTo('bore thread', 4, crumbly).act('keep').pass(1000).bench,
  'bore-thread-void': () => {
    const table = opened().to('bore thread').act('keep').feed(1).feed(2);
    return table.do({ kind: 'board-restarted', heardAt: millis(3000) }).pass(2000).bench;
  },
  'bore-thread-overrun': () => {
    const table = opened().to('bore thread').act('keep').feed(1).feed(2);
    return table.do({ kind: 'feed-overran', heardAt: millis(3000) }).pass(2000).bench;
  },
  'bore-thread-reversed': () => cutTo('bore thread', 3).feed(2).pass(1000).bench,
  'bore-thread-withdrawn': () => cutTo('bore thread', 5).feed(4).pass(1000).bench,
  'void-elsewhere': () => {
    const table = cutTo('bore thread', 3).to('spigot');
    return table.do({ kind: 'board-restarted', heardAt: millis(3000) }).pass(1000).bench;
  },
  'bore-thread-unseen': () => {
    const table = new Table(bored).to('bore thread');
    table.do({ kind: 'link-opened', port: '/dev/ttyUSB0', heardAt: millis(0) });
    return table.act('keep').pass(1000).bench;
  },
  'bore-thread-keyed': () => keyed(2).pass(1000).bench,
  'bore-thread-keyed-start': () => new Table(bored).to('bore thread').bench,
  'bore-thread-feedless': () => new Table(feedless).to('bore thread').bench,
  'bore-thread-feedless-taken': () => new Table(feedless).to('bore thread').type('1.05').pass(1000).bench,
  'bore-thread-coarse': () =>
    cutting('bore thread', 7, { ...bored, depth: { female: mm(2.4), male: mm(1) } }),
  'spigot-thread-start': () => withSpigot().to('spigot thread').pass(1000).bench,
  'spigot-thread': () => cutting('spigot thread', 2),
  'spigot-thread-full': () => cutting('spigot thread', 5),
  'spigot-thread-taken': () => cutTo('spigot thread', 5).act('keep').pass(1000).bench,
  'spigot-thread-over': () => cutting('spigot thread', 7),
  'spigot-thread-reversed': () => cutTo('spigot thread', 3).feed(2).pass(1000).bench,
  'spigot-thread-harden': () => cutting('spigot thread', 4, crumbly),
};

const byHand: Setup = { ...feedless, byHand: true };

function strokes(table: Table, count: number): Table {
  for (let at = 0; at < count; at++) table.do({ kind: 'detent-keyed', by: 1 });
  return table;
}

/** No board on the line. */
const atBoreThread = (count = 0, setup: Setup = byHand): Table =>
  strokes(new Table(setup).to('bore thread'), count);
/** Bore rocked, its thread kept as `bore` makes it, the spigot read. */
function atSpigotThread(bore: (table: Table) => Table = (table) => strokes(table, 14).type('0.45')): Table {
  const table = rock(bore(opened(byHand).to('bore thread')).to('bore size'), 42.3, 6).act('keep');
  return table.to('spigot').turns(43.41, 6).act('keep').to('spigot thread');
}
const byTrial = (table: Table): Table => strokes(table, 14).act('keep');

export const CHASING: Moments = {
  'chased-start': () => atBoreThread().pass(1000).bench,
  'chased-strokes': () => atBoreThread(9).pass(1000).bench,
  'chased-flat-shallow': () => atBoreThread(9).type('0.8').pass(1000).bench,
  'chased-strokes-left': () => strokes(atBoreThread(9).type('0.8'), 2).pass(1000).bench,
  'chased-flat-full': () => atBoreThread(14).type('0.45').pass(1000).bench,
  'chased-flat-point': () => atBoreThread(20).type('0').pass(1000).bench,
  'chased-flat-inch': () =>
    atBoreThread(14, { ...byHand, unit: 'in' })
      .type('0.018')
      .pass(1000).bench,
  'chased-by-trial': () => atBoreThread(12).act('keep').pass(1000).bench,
  'chased-uncounted': () => atBoreThread().act('keep').pass(1000).bench,
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
  'help-chased-bore': () => atBoreThread().do({ kind: 'help-switched' }).bench,
  'help-chased-spigot': () => atSpigotThread().do({ kind: 'help-switched' }).bench,
};
