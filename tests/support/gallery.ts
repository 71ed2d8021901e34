// Benches at the moments a turner meets, for pictures of the screen: made by the real rules, never by hand.
import type { Setup } from '../../src/core/bench/setup.ts';
import type { Bench } from '../../src/core/bench/state.ts';
import { startBench } from '../../src/core/bench/step.ts';
import { type LengthUnit, millis, mm } from '../../src/core/units.ts';
import { kit, Table, threaded } from './bench.ts';

const bored: Setup = {
  ...threaded,
  name: 'Pear box with lid',
  plannedBore: mm(42.3),
  depth: { female: mm(1), male: mm(1) },
};

/** Rocks the jaws in a bore: chords of it, eight a second, each swing past the widest place and back. */
export function rock(table: Table, diameter: number, swings: number, unit: LengthUnit = 'mm'): Table {
  const perSwing = 13;
  for (let count = 0; count < swings * perSwing; count++) {
    const off = 2.4 * Math.sin((Math.PI * (count + 0.3)) / perSwing - Math.PI / 2);
    const chord = Math.sqrt(diameter ** 2 - 4 * off ** 2);
    table.reads(
      unit === 'mm' ? Math.round(chord * 100) / 100 : Math.round(chord / 25.4 / 0.0005) * 0.0005,
      1,
      unit,
    );
  }
  return table;
}

const opened = (setup: Setup = bored): Table => {
  const table = new Table(setup).board();
  table.do({ kind: 'link-opened', port: '/dev/ttyUSB0', heardAt: millis(0) });
  return table.pass(1000);
};

/** Past the bore, at the spigot, with a reading of this many millimetres over the target. */
function spigotOver(over: number | null): Bench {
  const table = rock(opened().to('bore size'), 42.3, 6).act('take').pass(1000).to('spigot');
  const target = 42.3 + 1.1;
  if (over !== null) table.reads(Math.round((target + over) * 100) / 100, 6);
  return table.pass(1000).bench;
}

/** A thread stage with the cutter so many detents deep. */
function thread(stage: 'bore thread' | 'spigot thread', detents: number | null): Bench {
  const table = rock(opened().to('bore size'), 42.3, 6)
    .act('take')
    .to('spigot')
    .reads(43.41, 6)
    .act('take')
    .to(stage);
  if (detents !== null) {
    table.act('take');
    for (let at = 1; at <= detents; at++) table.feed(at);
  }
  return table.pass(1000).bench;
}

function tried(verdict: string): Bench {
  const table = rock(opened().to('bore size'), 42.3, 6)
    .act('take')
    .to('spigot')
    .reads(43.41, 6)
    .act('take')
    .to('trial');
  while (table.bench.trialled !== verdict) table.act('again');
  return table.act('take').pass(1000).bench;
}

function recorded(): Bench {
  const table = rock(opened().to('zero').reads(0.01, 5).act('take').to('bore size'), 42.3, 6)
    .act('take')
    .to('spigot');
  table.reads(43.41, 6).act('take').to('bore thread').act('take');
  for (let at = 1; at <= 5; at++) table.feed(at);
  table.act('take').to('trial').act('take').to('record').type('70');
  table.do(
    { kind: 'note-asked' },
    { kind: 'typed', text: 'Waxed; a touch more clearance next time.' },
    { kind: 'entered' },
  );
  return table.pass(1000).bench;
}

/** A second job of a setup whose first pair came out tighter than computed. */
function learned(): Table {
  const reasons = ['Quince box: computed 0.15 mm, tight; moved the bias -0.060 mm'];
  const setup = { ...bored, learned: { shift: mm(-0.06), spread: mm(0.05), reasons } };
  return rock(opened(setup).to('bore size'), 42.3, 6).act('take').pass(1000).to('spigot').pass(1000);
}

const jobs = [
  {
    id: 'a',
    name: 'Pear box with lid',
    touched: 1_700_000_000_000 - 7_200_000,
    stage: 'spigot',
    closed: false,
  },
  { id: 'b', name: '木の小箱', touched: 1_700_000_000_000 - 90_000_000, stage: 'record', closed: true },
  {
    id: 'c',
    name: 'Boxwood needle case, plain lid, third of a set of twelve for the spring fair',
    touched: 1_699_000_000_000,
    stage: 'trial',
    closed: false,
  },
] as const;

/** Calibrating the feed: so many answers of a gauge given. */
const gauge = (...answers: readonly string[]): Table => {
  const table = new Table(bored).to('bore thread').do({ kind: 'calibrate-asked' }).act('take', 'take');
  for (const answer of answers) table.type(answer);
  return table;
};

const fresh = (): Bench => startBench(millis(0), 1_700_000_000_000, 'mm');

/** Every moment by name. */
export const GALLERY: { readonly [moment: string]: () => Bench } = {
  welcome: fresh,
  form: () =>
    new Table()
      .do({ kind: 'new-job-asked' }, { kind: 'form-opened', kit, last: null })
      .do({ kind: 'moved', by: 1 }).bench,
  'form-choice': () => {
    const table = new Table().do({ kind: 'form-opened', kit, last: null });
    for (let at = 0; at < 4; at++) table.do({ kind: 'moved', by: 1 });
    return table.bench;
  },
  'form-error': () =>
    new Table().do({ kind: 'form-opened', kit, last: null }, { kind: 'erased' }, { kind: 'moved', by: 1 })
      .bench,
  jobs: () => new Table().do({ kind: 'jobs-listed', jobs }).do({ kind: 'moved', by: 1 }).bench,
  note: () =>
    new Table().do({ kind: 'note-asked' }, { kind: 'typed', text: 'Grain a little wild at the rim' }).bench,
  'zero-open': () => opened().to('zero').bench,
  'zero-steady': () => opened().to('zero').reads(0.01, 6).bench,
  'hollow-going': () => opened().to('hollow').reads(39.86, 6).bench,
  'hollow-tapered': () =>
    opened().to('hollow').reads(42.31, 6).act('take').reads(42.19, 6).act('take').pass(1000).bench,
  'bore-thread-start': () => thread('bore thread', null),
  'bore-thread-cutting': () => thread('bore thread', 3),
  'bore-thread-last': () => thread('bore thread', 4),
  'bore-thread-over': () => thread('bore thread', 6),
  'bore-thread-void': () => {
    const table = opened().to('bore thread').act('take').feed(1).feed(2);
    return table.do({ kind: 'board-restarted', heardAt: millis(3000) }).pass(2000).bench;
  },
  'bore-size-nothing': () => new Table(bored).to('bore size').bench,
  'bore-size-ready': () => opened().to('bore size').reads(41.2, 5).bench,
  'bore-size-rocking': () => rock(opened().to('bore size'), 42.3, 3).bench,
  'bore-size-agreed': () => rock(opened().to('bore size'), 42.3, 6).pass(1000).bench,
  'bore-size-stale': () => rock(opened().to('bore size'), 42.3, 2).pass(4500).bench,
  'bore-size-taken': () => rock(opened().to('bore size'), 42.3, 6).act('take').pass(1200).bench,
  'bore-size-typed': () =>
    new Table(bored).to('bore size').type('42.28').type('42.30').do({ kind: 'typed', text: '42.3' }).bench,
  'bore-size-inches': () => {
    const table = new Table({ ...bored, unit: 'in' }).board().to('bore size');
    table.do({ kind: 'link-opened', port: '/dev/ttyUSB0', heardAt: millis(0) });
    return rock(table, 42.3, 6, 'in').pass(1000).bench;
  },
  'spigot-target': () => spigotOver(null),
  'spigot-far': () => spigotOver(1.84),
  'spigot-near': () => spigotOver(0.26),
  'spigot-at': () => spigotOver(0.01),
  'spigot-under': () => spigotOver(-0.08),
  'spigot-past': () => spigotOver(-0.31),
  'spigot-learned': () => learned().bench,
  'help-learned': () => learned().do({ kind: 'help-switched' }).bench,
  'spigot-no-bore': () => new Table(bored).to('spigot').bench,
  'spigot-flash': () => {
    const table = rock(opened().to('bore size'), 42.3, 6).act('take').to('spigot');
    return table.reads(43.41, 6).bench;
  },
  'spigot-thread': () => thread('spigot thread', 2),
  'spigot-thread-reversed': () => {
    const table = rock(opened().to('bore size'), 42.3, 6).act('take').to('spigot thread').act('take');
    return table.feed(1).feed(2).feed(3).feed(2).pass(1000).bench;
  },
  'trial-first': () => opened().to('trial').pass(1000).bench,
  'trial-tight': () => tried('tight'),
  'trial-running': () => tried('running'),
  record: recorded,
  'record-closed': () => new Table(bored).to('record').act('take').bench,
  'calibrate-way': () => new Table(bored).to('bore thread').do({ kind: 'calibrate-asked' }).bench,
  'calibrate-asking': () => gauge().bench,
  'calibrate-counting': () => {
    const table = opened().to('bore thread').do({ kind: 'calibrate-asked' });
    return table.act('take', 'take', 'take').feed(1).feed(2).feed(3).pass(1000).bench;
  },
  'calibrate-travels': () => gauge('20', '4.02', '4.03', '4.02').pass(1000).bench,
  'calibrate-naming': () => gauge('20', '4.02', '4.03').act('next').bench,
  'calibrate-help': () => gauge('20').do({ kind: 'help-switched' }).bench,
  'calibrate-pair': () => {
    const table = opened().to('bore size').type('42.30').act('take').to('spigot').reads(43.41, 6).act('take');
    for (const stage of ['bore thread', 'spigot thread']) table.to(stage).type('5');
    table.to('trial').act('take').do({ kind: 'calibrate-asked' }).type('2').type('0.08').act('take', 'take');
    return table.pass(1000).bench;
  },
  refused: () => opened().to('bore size').act('take').pass(1000).bench,
  help: () => opened().to('bore size').do({ kind: 'help-switched' }).bench,
  unsaved: () => {
    const table = opened().to('hollow').reads(42.31, 6);
    table.broken = true;
    return table.act('take').pass(1000).bench;
  },
  plain: () =>
    rock(opened({ ...bored, fit: 'plain', wanted: mm(-0.05) }).to('bore size'), 42.3, 6)
      .act('take')
      .to('spigot')
      .reads(42.6, 6)
      .pass(1000).bench,
};
