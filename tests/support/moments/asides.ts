// Moments beside the stages: welcome, new job, jobs, notes, help, the calibration of the feed.
import { STAGES, type Stage } from '../../../src/core/bench/entry.ts';
import type { Setup } from '../../../src/core/bench/setup.ts';
import type { Bench } from '../../../src/core/bench/state.ts';
import { startBench } from '../../../src/core/bench/step.ts';
import { humidityPercent, millis, mm } from '../../../src/core/units.ts';
import { kit, Table } from '../bench.ts';
import { bored, type Moments, opened, pushedOn } from './begun.ts';

/** The form with the marker moved down this many fields. */
function formAt(field: number, last: Setup | null = null): Table {
  const table = new Table().do({ kind: 'new-job-asked' }, { kind: 'form-opened', kit, last });
  for (let at = 0; at < field; at++) table.do({ kind: 'moved', by: 1 });
  return table;
}
const writing = (field: number, text: string): Table => formAt(field).do({ kind: 'typed', text });

const seasonal: Setup = {
  ...bored,
  lidWood: 'boxwood',
  hardens: true,
  season: { from: humidityPercent(30), to: humidityPercent(65), remains: mm(0.15) },
};

const WALL = 1_700_000_000_000;
const jobs = [
  { id: 'a', name: 'Pear box with lid', touched: WALL - 7_200_000, stage: 'spigot', closed: false },
  { id: 'b', name: '木の小箱', touched: WALL - 90_000_000, stage: 'record', closed: true },
  {
    id: 'c',
    name: 'Boxwood needle case, plain lid, third of a set of twelve for the spring fair',
    touched: WALL - 1_000_000_000,
    stage: 'trial',
    closed: false,
  },
  { id: 'd', name: 'Yew pot', touched: WALL - 2_000_000_000, stage: 'spigot thread', closed: false },
] as const;

/** Calibrating the feed by a gauge, with these answers given. */
const gauge = (...answers: readonly string[]): Table => {
  const table = new Table(bored).to('bore thread').do({ kind: 'calibrate-asked' }).act('keep', 'keep');
  for (const answer of answers) table.type(answer);
  return table;
};

/** Calibrating from a pair that runs, up to its first question. */
function pairRuns(): Table {
  const table = opened().to('bore size').type('42.30').act('keep').to('spigot').turns(43.41, 6).act('keep');
  for (const stage of ['bore thread', 'spigot thread']) table.to(stage).type('5');
  return table.to('trial').type('3').do({ kind: 'calibrate-asked' }).type('2');
}

const helpAt = (stage: Stage): Bench => opened().to(stage).do({ kind: 'help-switched' }).bench;
const helpOfStages: Moments = Object.fromEntries(
  STAGES.map((stage) => [`help-${stage.replace(' ', '-')}`, () => helpAt(stage)]),
);

const fresh = (): Bench => startBench(millis(0), WALL, 'mm');

export const ASIDES: Moments = {
  welcome: fresh,
  'welcome-board': () => ({ ...fresh(), line: opened().bench.line }),
  'welcome-help': () => ({ ...fresh(), help: true }),
  form: () => formAt(1).bench,
  'form-name': () => formAt(0).bench,
  'form-wood': () => writing(1, 'mapl').bench,
  'form-wood-unknown': () => writing(1, 'xyz').do({ kind: 'moved', by: 1 }).bench,
  'form-wood-xyz': () => writing(1, 'xyz').bench,
  'form-choice': () => formAt(4).bench,
  'form-pitch': () => writing(5, '16 tpi').bench,
  'form-pitch-error': () => writing(5, '16 threads').do({ kind: 'moved', by: 1 }).bench,
  'form-season': () => writing(11, '30%-65%').bench,
  'form-season-error': () => writing(11, '30%-165%').do({ kind: 'moved', by: 1 }).bench,
  'form-last-field': () => writing(12, '42.3mm').bench,
  'form-error': () => formAt(0).do({ kind: 'erased' }, { kind: 'moved', by: 1 }).bench,
  'form-as-last': () => formAt(2, seasonal).bench,
  'form-plain': () => formAt(3, pushedOn).bench,
  jobs: () => new Table().do({ kind: 'jobs-listed', jobs }).do({ kind: 'moved', by: 1 }).bench,
  'jobs-none': () => new Table().do({ kind: 'jobs-listed', jobs: [] }).bench,
  note: () =>
    new Table().do({ kind: 'note-asked' }, { kind: 'typed', text: 'Grain a little wild at the rim' }).bench,
  help: () => helpAt('bore size'),
  ...helpOfStages,
  'season-stage': () =>
    opened(seasonal).to('bore size').type('42.3').act('keep').to('spigot').pass(1000).bench,
};

export const CALIBRATIONS: Moments = {
  'calibrate-way': () => new Table(bored).to('bore thread').do({ kind: 'calibrate-asked' }).bench,
  'calibrate-asking': () => gauge().bench,
  'calibrate-counting': () => {
    const table = opened().to('bore thread').do({ kind: 'calibrate-asked' });
    return table.act('keep', 'keep', 'keep').feed(1).feed(2).feed(3).pass(1000).bench;
  },
  'calibrate-travels': () => gauge('20', '4.02', '4.03', '4.02').pass(1000).bench,
  'calibrate-one-travel': () => gauge('20', '4.02').pass(1000).bench,
  'calibrate-naming': () => gauge('20', '4.02', '4.03').act('next').bench,
  'calibrate-help': () => gauge('20').do({ kind: 'help-switched' }).bench,
  'calibrate-asking-pair': () => pairRuns().bench,
  'calibrate-pair': () => pairRuns().type('0.08').act('keep', 'keep').pass(1000).bench,
  'calibrate-pair-wrong': () => pairRuns().type('3').act('keep', 'keep').pass(1000).bench,
  'calibrate-refused': () => gauge().act('next').pass(1000).bench,
};
