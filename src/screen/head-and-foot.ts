// The rows above and below the body of a screen. The head: the job and the line's health, and below them the stages, or for a
// moment the word of a cue. The foot: what was done or typed, what to do next, what to mind, and the keys.
import type { Stage } from '../core/bench/entry.ts';
import type { Job } from '../core/bench/job.ts';
import { stagesOf } from '../core/bench/stages/all.ts';
import type { Bench, Notice } from '../core/bench/state.ts';
import { spokenWood } from '../core/bench/wood-choice.ts';
import { counted, pitchFigure } from '../core/figures.ts';
import { type Health, healthOf } from './line-health.ts';
import { type KeyHint, MARKS, type Scene, type Typing } from './scene.ts';
import {
  atMost,
  type Block,
  centred,
  clipped,
  emptyRow,
  fitted,
  row,
  rowWidth,
  run,
  type Style,
  type StyledRow,
  safe,
  shorten,
  textWidth,
  wrapped,
} from './text.ts';
import { CUE_WORDS, noticeWords } from './words.ts';

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

const MOST_ROWS = 3;

/** The foot's rows from top to bottom; `roomy` leaves a blank row for an empty one. */
export function footRows(bench: Bench, scene: Scene, columns: number, roomy: boolean): Block {
  return [
    ...firstRows(bench, scene, columns, roomy),
    ...sentence(scene.next, columns, MARKS.next, 'next'),
    ...(scene.caution ? sentence(scene.caution, columns, MARKS.alert, 'caution') : []),
    ...keyRows(scene.keys, columns),
  ];
}

/** A sentence under its mark, on more rows where it does not fit on one. */
const sentence = (said: string, columns: number, mark: string, style: Style): Block =>
  atMost(wrapped(said, columns - 4), MOST_ROWS, columns - 4).map((line, at) =>
    row(run(at === 0 ? ` ${mark} ` : '   ', style), run(line, style)),
  );

/** What is not saved, was asked, done or not done, and under it what is typed. */
function firstRows(bench: Bench, { typing }: Scene, columns: number, roomy: boolean): Block {
  const said = saidRows(bench, columns);
  if (typing) return [...said, typingRow(typing, columns)];
  return said.length === 0 && roomy ? [emptyRow] : said;
}

function saidRows(bench: Bench, columns: number): Block {
  const { unsaved, notice, help, mode, unit } = bench;
  if (unsaved.length > 0) return sentence(unsavedText(unsaved.length), columns, MARKS.cross, 'bad');
  if (!notice || help || mode.kind === 'form' || isOldNews(bench)) return [];
  const [mark, style] = GOOD_NEWS.has(notice.kind)
    ? ([MARKS.full, 'good'] as const)
    : ([MARKS.cross, 'bad'] as const);
  return sentence(noticeWords(notice, unit), columns, mark, style);
}

const unsavedText = (count: number): string =>
  `NOT SAVED yet: ${counted(count, 'entry', 'entries')}. Trying again every few seconds. Don't leave.`;

const GOOD_NEWS: ReadonlySet<Notice['kind']> = new Set(['kept', 'undone', 'feed-kept', 'mishap']);

/** What the number or its standing says by now is not said twice. */
function isOldNews({ notice, job, readings, capture, mode }: Bench): boolean {
  if (!notice || !job || mode.kind !== 'stage') return false;
  const part = job.stage === 'bore thread' ? 'female' : job.stage === 'spigot thread' ? 'male' : null;
  const tracker = part && job.threads[part].tracker;
  if (notice.kind === 'depth-voided') return notice.part === part;
  if (notice.kind !== 'kept') return false;
  if (notice.what === 'job-begun') return readings.length > 0 || (capture?.readings.length ?? 0) > 0;
  return notice.what === 'touched-off' && tracker?.kind === 'tracking' && tracker.count !== tracker.touchedAt;
}

/** What is typed, its end where it is long, with the cursor behind it. */
function typingRow({ asks, text }: Typing, columns: number): StyledRow {
  const characters = [...text];
  while (textWidth(characters.join('')) > columns - textWidth(asks) - 5) characters.shift();
  return row(run(` ${asks}: `, 'title'), run(characters.join(''), 'strong'), run(' ', 'cursor'));
}

const hintWidth = ({ key, does }: KeyHint): number => textWidth(key) + textWidth(does) + 4;

/** The keys: one row with the most needed first and the help, which names them all; without help, all of them. */
function keyRows(keys: readonly KeyHint[], columns: number): Block {
  const help = keys.find(({ key }) => key === '?');
  const rows: KeyHint[][] = [[]];
  let left = columns - (help ? hintWidth(help) : 0);
  for (const hint of keys.filter((one) => one !== help)) {
    left -= hintWidth(hint);
    if (left < 0 && help) break;
    if (left < 0) {
      rows.push([]);
      left = columns - hintWidth(hint);
    }
    rows.at(-1)?.push(hint);
  }
  if (help) rows[0]?.splice(keys.indexOf(help), 0, help);
  return rows.filter((hints) => hints.length > 0).map(keysRow);
}

const keysRow = (hints: readonly KeyHint[]): StyledRow =>
  hints.flatMap(({ key, does }) => row('   ', run(key, 'key'), run(` ${does}`, 'quiet')));
