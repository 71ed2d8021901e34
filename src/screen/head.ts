// The head of a screen: the job and the line's health, and below them the stages, or for a moment the word of a cue.
import type { Stage } from '../core/bench/entry.ts';
import type { Job } from '../core/bench/job.ts';
import { stagesOf } from '../core/bench/stages/all.ts';
import type { Bench } from '../core/bench/state.ts';
import { spokenWood } from '../core/bench/wood-choice.ts';
import { pitchFigure } from '../core/figures.ts';
import { type Health, healthOf } from './line-health.ts';
import type { Scene } from './scene.ts';
import { type Block, centred, clipped, fitted, row, rowWidth, run, type StyledRow } from './styled-text.ts';
import { safe, shorten } from './text.ts';
import { CUE_WORDS } from './words.ts';

/** Columns that a job's name keeps beside the line's health. */
const LEAST_NAME = 6;
/** How long a cue flashes, in milliseconds of the bench's clock. */
const FLASH = 900;

/** The job at the left and the line at the right, which is left out where both do not fit; below them the stages, or a flash. */
export function headRows(bench: Bench, scene: Scene, columns: number): Block {
  const health = row(...healthRow(healthOf(bench), columns - LEAST_NAME - 5), ' ');
  const width = rowWidth(health);
  const left = jobRow(bench.mode.kind === 'form' ? null : bench.job, columns - width - 3);
  const fits = rowWidth(left) + width < columns;
  return [
    fits ? [...fitted(left, columns - width), ...health] : clipped(left, columns),
    flashRow(bench, columns) ?? stagesRow(bench, scene, columns),
  ];
}

/** The job's name, which gives way, and its wood and thread where there is room. */
function jobRow(job: Job | null, room: number): StyledRow {
  const about = job ? aboutJob(job) : '';
  const name = shorten(job ? safe(job.name) : 'lidwright', Math.max(LEAST_NAME, room));
  const rest = room - rowWidth(row(name)) - 3;
  const fits = about !== '' && about.length <= rest;
  return row(' ', run(name, 'strong'), run(fits ? `  ${about}` : '', 'quiet'));
}

function aboutJob({ setup: { wood, fit, pitch, starts } }: Job): string {
  const thread =
    fit === 'plain' ? 'plain lid' : `${pitchFigure(pitch)}${starts > 1 ? ` x ${starts} starts` : ''}`;
  return [wood === undefined ? '' : safe(spokenWood(wood), 24), thread]
    .filter((part) => part !== '')
    .join(' · ');
}

/** Where not all of it fits the counts become one sum, or are left off; the word never is. */
function healthRow({ mark, text, style, counts, sum }: Health, room: number): StyledRow {
  const word = run(`${mark} ${text}`, style);
  const ways = [counts, sum].filter((said) => said !== '').map((said) => row(run(`${said}  `, 'near'), word));
  return ways.find((way) => rowWidth(way) <= room) ?? row(word);
}

function flashRow({ cue, now }: Bench, columns: number): StyledRow | null {
  if (!cue || now - cue.at >= FLASH) return null;
  const word = fitted(centred(row(CUE_WORDS[cue.cue]), columns), columns);
  return word.map(({ text }) => run(text, 'flash'));
}

function stagesRow({ mode, help, job }: Bench, scene: Scene, columns: number): StyledRow {
  if (mode.kind !== 'stage' || help || !job) return row(' ', run('◆ ', 'title'), run(scene.title, 'here'));
  const stages = stripOf(job);
  const named = ['  ', ' '].map((gap) => withNames(stages, gap));
  return named.find((strip) => rowWidth(strip) <= columns) ?? beads(stages);
}

interface StripStage {
  readonly name: string;
  readonly state: 'done' | 'here' | 'ahead';
}
const BEAD = { done: '●', here: '◆', ahead: '○' } as const;

const DONE: { readonly [stage in Stage]: (job: Job) => boolean } = {
  zero: (job) => job.zero !== null,
  hollow: (job) => job.mouth !== null,
  'bore thread': ({ threads }) => (threads.female.cut ?? threads.female.chased) !== null,
  'bore size': (job) => job.bore !== null,
  spigot: (job) => job.spigot !== null,
  'spigot thread': ({ threads }) => (threads.male.cut ?? threads.male.chased) !== null,
  trial: (job) => job.trials.length > 0,
  record: (job) => job.closed !== null,
};

const stripOf = (job: Job): readonly StripStage[] =>
  stagesOf(job.setup).map((name) => ({
    name,
    state: name === job.stage ? 'here' : DONE[name](job) ? 'done' : 'ahead',
  }));

const bead = ({ state }: StripStage) => run(BEAD[state], state === 'here' ? 'title' : state);

/** Every stage by name. */
const withNames = (stages: readonly StripStage[], gap: string): StyledRow =>
  row(
    ...stages.flatMap((stage, at) => [
      run(at === 0 ? ' ' : gap),
      bead(stage),
      run(gap.length > 1 ? ' ' : ''),
      run(stage.name, stage.state),
    ]),
  );

/** Beads alone, with one name. */
const beads = (stages: readonly StripStage[]): StyledRow =>
  row(
    ' ',
    ...stages.flatMap((stage, at) => [
      run(at === 0 ? '' : '─', 'quiet'),
      bead(stage),
      ...(stage.state === 'here' ? [run(' '), run(stage.name, 'here'), run(' ')] : []),
    ]),
  );
