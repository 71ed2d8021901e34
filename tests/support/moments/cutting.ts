// Moments of the two thread stages: touch-off, detents down to depth, the finish, and every way the depth is in doubt; then threads
// chased by hand: strokes, flats, crests, and the trial that says what was not measured.
import type { Setup } from '../../../src/core/bench/setup.ts';
import type { Bench } from '../../../src/core/bench/state.ts';
import { mm } from '../../../src/core/units.ts';
import { played, type Table } from '../bench.ts';
import { bored, type Moments, opened, rock, withSpigot } from './begun.ts';

type Thread = 'bore thread' | 'spigot thread';

/** A thread stage after touch-off, the cutter this many detents deep. */
const cutTo = (stage: Thread, detents: number, setup: Setup = bored): Table =>
  withSpigot(setup).to(stage).act('keep').detents(detents);
const cutting = (stage: Thread, detents: number, setup?: Setup): Bench =>
  cutTo(stage, detents, setup).pass(1000).bench;

const crumbly: Setup = { ...bored, hardens: true };
const swift: Setup = { ...bored, cutter: { ...bored.cutter, topSpeed: 8000 } };
const { feed: _feed, ...feedless } = bored;

export const THREADS: Moments = {
  'bore-thread-start': () => withSpigot().to('bore thread').pass(1000).bench,
  'bore-thread-touched': () => cutting('bore thread', 0),
  'bore-thread-cutting': () => cutting('bore thread', 3),
  'bore-thread-speed': () => cutting('bore thread', 2, swift),
  'bore-thread-last': () => cutting('bore thread', 4),
  'bore-thread-full': () => cutting('bore thread', 5),
  'bore-thread-taken': () => cutTo('bore thread', 5).act('keep').pass(1000).bench,
  'bore-thread-over': () => cutting('bore thread', 6),
  'bore-thread-over-first': () => opened().play('@bore-thread keep detents:6 wait:1000').bench,
  'bore-thread-harden': () => cutting('bore thread', 4, crumbly),
  'bore-thread-hardened': () => cutTo('bore thread', 4, crumbly).act('keep').pass(1000).bench,
  'bore-thread-void': () => opened().play('@bore-thread keep detents:2 restart wait:2000').bench,
  'bore-thread-overrun': () => opened().play('@bore-thread keep detents:2 overrun wait:2000').bench,
  'bore-thread-reversed': () => cutTo('bore thread', 3).feed(2).pass(1000).bench,
  'bore-thread-withdrawn': () => cutTo('bore thread', 5).feed(4).pass(1000).bench,
  'void-elsewhere': () => cutTo('bore thread', 3).play('@spigot restart wait:1000').bench,
  'bore-thread-unseen': () => played('@bore-thread open keep wait:1000', bored).bench,
  'bore-thread-keyed': () => played('@bore-thread keep +2 wait:1000', bored).bench,
  'bore-thread-keyed-start': () => played('@bore-thread', bored).bench,
  'bore-thread-feedless': () => played('@bore-thread', feedless).bench,
  'bore-thread-feedless-taken': () => played('@bore-thread =1.05 wait:1000', feedless).bench,
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

/** At the bore thread, and what is done there; no board on the line. */
const atBoreThread = (script = '', setup: Setup = byHand): Table => played(`@bore-thread ${script}`, setup);
/** At the spigot: the bore's thread kept as its script makes it, the bore rocked. */
const atSpigotByHand = (bore: string): Table =>
  rock(opened(byHand).play(`@bore-thread ${bore} @bore-size`), 42.3, 6).play('keep @spigot');
const BY_TRIAL = '+14 keep';
/** The spigot read too, and its thread's script played. */
const atSpigotThread = (script = '', bore = '+14 =0.45'): Table =>
  atSpigotByHand(bore).turns(43.41, 6).play(`keep @spigot-thread ${script}`);

export const CHASING: Moments = {
  'chased-start': () => atBoreThread('wait:1000').bench,
  'chased-strokes': () => atBoreThread('+9 wait:1000').bench,
  'chased-flat-shallow': () => atBoreThread('+9 =0.8 wait:1000').bench,
  'chased-strokes-left': () => atBoreThread('+9 =0.8 +2 wait:1000').bench,
  'chased-flat-full': () => atBoreThread('+14 =0.45 wait:1000').bench,
  'chased-flat-point': () => atBoreThread('+20 =0 wait:1000').bench,
  'chased-flat-inch': () => atBoreThread('+14 =0.018 wait:1000', { ...byHand, unit: 'in' }).bench,
  'chased-by-trial': () => atBoreThread('+12 keep wait:1000').bench,
  'chased-uncounted': () => atBoreThread('keep wait:1000').bench,
  'chased-spigot-stage': () => atSpigotByHand(BY_TRIAL).pass(1000).bench,
  'chased-spigot-past': () => atSpigotByHand(BY_TRIAL).turns(42.9, 6).bench,
  'chased-spigot-thread': () => atSpigotThread('+6 wait:1000').bench,
  'chased-crests-read': () => atSpigotThread('+20 43.2x6').bench,
  'chased-crests-kept': () => atSpigotThread('+20 43.2x6 keep wait:1000').bench,
  'chased-crests-point': () => atSpigotThread('+20 =0 wait:1000').bench,
  'chased-both-measured': () => atSpigotThread('+15 =0.4 wait:1000').bench,
  'chased-trial-measured': () => atSpigotThread('+15 =0.4 @trial wait:1000').bench,
  'chased-trial-tight': () => atSpigotThread(`${BY_TRIAL} @trial =2 wait:1000`, BY_TRIAL).bench,
  'chased-record': () => atSpigotThread(`${BY_TRIAL} @trial =3 @record wait:1000`).bench,
  'help-chased-bore': () => atBoreThread('help').bench,
  'help-chased-spigot': () => atSpigotThread('help').bench,
};
