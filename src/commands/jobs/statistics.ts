// `lidwright jobs statistics`: per setup, how many first trials ran, and by how much clearances come out over the computed ones.
import { type Job, jobOf } from '../../core/bench/job.ts';
import { setupKey, trialsOf } from '../../core/bench/lessons.ts';
import type { Setup } from '../../core/bench/setup.ts';
import { pitchText } from '../../core/bench/typed-quantity.ts';
import { learn } from '../../core/learn/bias.ts';
import { forScreen } from '../../core/safe-text.ts';
import { inDegrees } from '../../core/units.ts';
import type { Records } from '../../records/jobs.ts';
import type { Kept } from '../../records/trouble.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { orReport, progressOf, withRecords } from '../open-records.ts';
import { answer, endWith } from '../output.ts';

/** What the jobs on each setup came to, the setup of most jobs first. */
function figuresFor(jobs: readonly Job[]): readonly SetupFigures[] {
  const groups = new Map<string, Job[]>();
  for (const job of jobs) {
    const key = setupKey(job.setup);
    const group = groups.get(key) ?? [];
    group.push(job);
    groups.set(key, group);
  }
  return [...groups.values()].map(figuresOfGroup).toSorted((one, other) => other.jobs - one.jobs);
}

function figuresOfGroup(jobs: readonly Job[]) {
  const trials = jobs.flatMap(trialsOf);
  const learned = trials.length > 0 ? learn(trials) : null;
  const [first] = jobs;
  if (!first) throw new RangeError('a group has a job in it');
  return {
    setup: first.setup,
    jobs: jobs.length,
    firstRan: jobs.filter((job) => job.trials[0]?.verdict === 'running').length,
    trials: jobs.reduce((so, job) => so + job.trials.length, 0),
    /** True clearance less computed clearance, in mm, and its standard uncertainty; null where no trial says anything of it. */
    bias: learned && { mean: learned.mean, spread: learned.spread },
  };
}

type SetupFigures = ReturnType<typeof figuresOfGroup>;

/** Jobs with a trial, oldest first. */
function triedJobs(records: Records, output: Output): Kept<readonly Job[]> {
  const list = records.list({});
  if (!list.ok) return list;
  const tried = list.value.jobs.filter(({ trials }) => trials > 0).toReversed();
  const jobs: Job[] = [];
  const said = progressOf(output, (at) => `${at} of ${tried.length} jobs read`);
  for (const [at, { id }] of tried.entries()) {
    const log = records.outlineOf(id);
    if (!log.ok) return log;
    const job = jobOf(log.value);
    if (job) jobs.push(job);
    said(at + 1);
  }
  return { ok: true, value: jobs };
}

const setupWords = ({ pitch, cutter, fit, wood, starts }: Setup): string => {
  const form = fit === 'plain' ? 'plain' : `${pitchText(pitch)} ${inDegrees(cutter.angle).toFixed(0)}deg`;
  return `${form}${starts > 1 ? `, ${starts} starts` : ''}, ${forScreen(cutter.name, 16)}, ${forScreen(wood ?? 'any wood', 16)}`;
};

const BLOCKS = ' ▏▎▍▌▋▊▉█';
const BAR = 16;

/** A bar of block characters, BAR wide at a share of 1, to an eighth of a character. */
export function bar(share: number): string {
  const eighths = Math.round(Math.min(1, Math.max(0, share)) * BAR * 8);
  const whole = '█'.repeat(Math.floor(eighths / 8));
  return (whole + (eighths % 8 === 0 ? '' : (BLOCKS[eighths % 8] ?? ''))).padEnd(BAR);
}

/** Where a bias lies between -0.3 and 0.3 mm: a dot within its spread, zero marked. */
function biasChart({ mean, spread }: { readonly mean: number; readonly spread: number }): string {
  const half = 12;
  const place = (value: number): number => Math.round(Math.min(1, Math.max(-1, value / 0.3)) * half) + half;
  const cells: string[] = Array.from({ length: 2 * half + 1 }, (_, at) => (at === half ? '┼' : '·'));
  for (let at = place(mean - spread); at <= place(mean + spread); at += 1) cells[at] = '━';
  cells[place(mean)] = '●';
  return cells.join('');
}

const signed = (value: number): string => `${value < 0 ? '-' : '+'}${Math.abs(value).toFixed(2)}`;
const SETUP_COLUMNS = 50;

function row({ setup, jobs, firstRan, trials, bias }: SetupFigures): readonly string[] {
  const share = firstRan / jobs;
  const rate = `${String(firstRan).padStart(4)} of ${String(jobs).padEnd(5)} ${bar(share)} ${`${Math.round(share * 100)} %`.padStart(5)}`;
  const lies = bias
    ? `  bias ${signed(bias.mean)} mm ± ${bias.spread.toFixed(2)}  ${biasChart(bias)}  of ${trials} trials`
    : '  bias not known: no trial has a computed clearance';
  return [`${setupWords(setup).padEnd(SETUP_COLUMNS)} ${rate}`, lies];
}

const plain = (figures: SetupFigures): object => ({
  setup: setupWords(figures.setup),
  pitchMm: figures.setup.pitch.length,
  angleDeg: inDegrees(figures.setup.cutter.angle),
  cutter: figures.setup.cutter.name,
  wood: figures.setup.wood ?? null,
  jobs: figures.jobs,
  firstTrialRan: figures.firstRan,
  firstTrialRate: figures.firstRan / figures.jobs,
  trials: figures.trials,
  biasMm: figures.bias?.mean ?? null,
  biasStandardMm: figures.bias?.spread ?? null,
});

function show(jobs: readonly Job[], typed: Typed, output: Output): ExitCode {
  const figures = figuresFor(jobs);
  const ran = figures.reduce((so, { firstRan }) => so + firstRan, 0);
  if (jobs.length === 0 && typed.options.json !== true)
    return endWith(output, 0, "jobs: no job has a trial yet, so there's nothing to count.");
  const counts = { jobs: jobs.length, firstTrialRan: ran, setups: figures.map(plain) };
  return answer(typed, output, { kind: 'statistics', v: 1, ...counts }, [
    `${'setup'.padEnd(SETUP_COLUMNS)} first trial ran`,
    ...figures.flatMap(row),
    `${'all'.padEnd(SETUP_COLUMNS)} ${String(ran).padStart(4)} of ${jobs.length}`,
    'Bias is the true clearance minus the computed one, with its standard uncertainty. The chart runs from -0.3 to +0.3 mm.',
  ]);
}

export const runStatistics = (typed: Typed, output: Output): Promise<ExitCode> =>
  withRecords(output, 'jobs', (records) =>
    orReport(triedJobs(records, output), output, (jobs) => show(jobs, typed, output)),
  );
