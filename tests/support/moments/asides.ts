// Moments beside the stages: welcome, new job, jobs, notes, help, the calibration of the feed.
import { STAGES, type Stage } from '../../../src/core/bench/entry.ts';
import type { Setup } from '../../../src/core/bench/setup.ts';
import type { Bench } from '../../../src/core/bench/state.ts';
import { startBench } from '../../../src/core/bench/step.ts';
import { humidityPercent, millis, mm } from '../../../src/core/units.ts';
import { kit, played, Table } from '../bench.ts';
import { bored, type Moments, opened, pushedOn } from './begun.ts';

/** The form with the marker moved down this many fields. */
const formAt = (field: number, last: Setup | null = null): Table =>
  new Table().do({ kind: 'new-job-asked' }, { kind: 'form-opened', kit, last }).play('down '.repeat(field));
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

/** Calibrating the feed by a gauge, and what is done then. */
const gauge = (script = ''): Table => played(`@bore-thread calibrate keep keep ${script}`, bored);

/** Calibrating from a pair that runs, up to its first question. */
const pairRuns = (): Table =>
  opened()
    .play('@bore-size =42.30 keep @spigot')
    .turns(43.41, 6)
    .play('keep @bore-thread =5 @spigot-thread =5 @trial =3 calibrate =2');

const helpAt = (stage: Stage): Bench => opened().to(stage).play('help').bench;

const fresh = (): Bench => startBench(millis(0), WALL, 'mm');

export const ASIDES: Moments = {
  welcome: fresh,
  'welcome-board': () => ({ ...fresh(), line: opened().bench.line }),
  'welcome-help': () => ({ ...fresh(), help: true }),
  form: () => formAt(1).bench,
  'form-name': () => formAt(0).bench,
  'form-wood': () => writing(1, 'mapl').bench,
  'form-wood-unknown': () => writing(1, 'xyz').play('down').bench,
  'form-wood-xyz': () => writing(1, 'xyz').bench,
  'form-choice': () => formAt(4).bench,
  'form-pitch': () => writing(5, '16 tpi').bench,
  'form-pitch-error': () => writing(5, '16 threads').play('down').bench,
  'form-season': () => writing(11, '30%-65%').bench,
  'form-season-error': () => writing(11, '30%-165%').play('down').bench,
  'form-last-field': () => writing(12, '42.3mm').bench,
  'form-error': () => formAt(0).play('erase down').bench,
  'form-as-last': () => formAt(2, seasonal).bench,
  'form-plain': () => formAt(3, pushedOn).bench,
  jobs: () => new Table().do({ kind: 'jobs-listed', jobs }).play('down').bench,
  'jobs-none': () => new Table().do({ kind: 'jobs-listed', jobs: [] }).bench,
  note: () => played('note ~Grain_a_little_wild_at_the_rim').bench,
  help: () => helpAt('bore size'),
  ...Object.fromEntries(STAGES.map((stage) => [`help-${stage.replace(' ', '-')}`, () => helpAt(stage)])),
  'season-stage': () => opened(seasonal).play('@bore-size =42.3 keep @spigot wait:1000').bench,
};

export const CALIBRATIONS: Moments = {
  'calibrate-way': () => played('@bore-thread calibrate', bored).bench,
  'calibrate-asking': () => gauge().bench,
  'calibrate-counting': () =>
    opened().play('@bore-thread calibrate keep keep keep detents:3 wait:1000').bench,
  'calibrate-travels': () => gauge('=20 =4.02 =4.03 =4.02 wait:1000').bench,
  'calibrate-one-travel': () => gauge('=20 =4.02 wait:1000').bench,
  'calibrate-naming': () => gauge('=20 =4.02 =4.03 next').bench,
  'calibrate-help': () => gauge('=20 help').bench,
  'calibrate-asking-pair': () => pairRuns().bench,
  'calibrate-pair': () => pairRuns().play('=0.08 keep keep wait:1000').bench,
  'calibrate-pair-wrong': () => pairRuns().play('=3 keep keep wait:1000').bench,
  'calibrate-refused': () => gauge('next wait:1000').bench,
};
