// The view: what the bench looks like at a size. Pure; the same bench gives the same picture.
import type { Job } from '../core/bench/job.ts';
import type { Bench, Notice as Told } from '../core/bench/state.ts';
import { counted, pitchFigure } from '../core/figures.ts';
import { inAscii } from './ascii.ts';
import type { Notice } from './foot.ts';
import { layOut } from './layout.ts';
import { drawHealth } from './panels/health/draw.ts';
import { healthOf } from './panels/health/health.ts';
import { drawStrip } from './panels/strip/draw.ts';
import { stripOf } from './panels/strip/strip.ts';
import {
  centred,
  ends,
  type Picture,
  pictureOf,
  type Row,
  row,
  rowWidth,
  run,
  type Style,
  tall,
} from './picture.ts';
import { MARKS, type Scene } from './scene.ts';
import { sceneOf } from './scenes/scene-of.ts';
import type { Size } from './terminal.ts';
import { safe, shorten, wrapped } from './text.ts';
import type { Glyphs } from './theme.ts';
import { CUE_WORDS, noticeWords } from './words.ts';

export interface Look {
  readonly glyphs: Glyphs;
}

/** Below this the screen says what is too small, and shows the number and what to do. */
export const LEAST: Size = { columns: 60, rows: 16 };
/** A job's name keeps so many columns beside the line's health. */
const LEAST_NAME = 6;
/** How long a cue flashes, in milliseconds of the bench's clock. */
const FLASH = 900;

export function view(bench: Bench, size: Size, look: Look): Picture {
  const scene = sceneOf(bench);
  const { columns, rows } = size;
  const small = columns < LEAST.columns || rows < LEAST.rows;
  const { rows: block, cursor } = small
    ? { rows: tooSmall(scene, size), cursor: undefined }
    : layOut(
        scene,
        {
          head: headOf(bench, scene, columns),
          notice: noticeOf(bench),
        },
        size,
        look.glyphs,
      );
  const picture = pictureOf(block, columns, rows, cursor);
  return look.glyphs === 'ascii' ? inAscii(picture) : picture;
}

function headOf(bench: Bench, scene: Scene, columns: number): readonly Row[] {
  return [topRow(bench, columns), flashRow(bench, columns) ?? stripRow(bench, scene, columns)];
}

/** The job at the left, the line's health at the right; the job's name gives way. */
function topRow(bench: Bench, columns: number): Row {
  const health = [...drawHealth(healthOf(bench), columns - LEAST_NAME - 5), run(' ')];
  const job = bench.mode.kind === 'form' ? null : bench.job;
  const about = aboutJob(job);
  const room = columns - rowWidth(health) - 3;
  const name = shorten(job ? safe(job.name) : 'lidwright', Math.max(LEAST_NAME, room));
  const rest = room - rowWidth(row(name)) - 3;
  const left = row(
    ' ',
    run(name, 'strong'),
    run(about.length <= rest && about !== '' ? `  ${about}` : '', 'quiet'),
  );
  return ends(left, health, columns);
}

function aboutJob(job: Job | null): string {
  if (!job) return '';
  const { wood, fit, pitch, starts } = job.setup;
  const thread =
    fit === 'plain' ? 'plain lid' : `${pitchFigure(pitch)}${starts > 1 ? ` x ${starts} starts` : ''}`;
  return [wood === undefined ? '' : safe(wood, 24), thread].filter((part) => part !== '').join(' · ');
}

function stripRow(bench: Bench, scene: Scene, columns: number): Row {
  const atStage = bench.mode.kind === 'stage' && !bench.help && bench.job;
  return atStage
    ? drawStrip(stripOf(atStage), columns)
    : row(' ', run('◆ ', 'title'), run(scene.title, 'here'));
}

/** For eyes instead of ears: the cue's word across the whole strip, for a moment. */
function flashRow({ cue, now }: Bench, columns: number): Row | null {
  if (!cue || now - cue.at >= FLASH) return null;
  return [
    run(
      centred(row(CUE_WORDS[cue.cue]), columns)
        .map(({ text }) => text)
        .join(''),
      'flash',
    ),
  ];
}

/** What was done or not done; what is not saved stands before everything else. */
function noticeOf(bench: Bench): Notice | null {
  const { unsaved, notice, help, mode } = bench;
  if (unsaved.length > 0)
    return {
      said: `NOT SAVED yet: ${counted(unsaved.length, 'entry', 'entries')}. Tried again every few seconds; do not leave.`,
      wrong: true,
    };
  if (!notice || help || mode.kind === 'form' || isOldNews(bench)) return null;
  return { said: noticeWords(notice, bench.unit), wrong: isBadNews(notice) };
}

/** A void is kept too, and is no good news. */
const isBadNews = (notice: Told): boolean =>
  notice.kind === 'kept'
    ? notice.what === 'depth-voided'
    : notice.kind !== 'undone' && notice.kind !== 'feed-kept';

/** What the number or its standing says by now is not said twice. */
function isOldNews({ notice, job, readings: heard, capture, mode }: Bench): boolean {
  if (notice?.kind !== 'kept' || !job || mode.kind !== 'stage') return false;
  const part = job.stage === 'bore thread' ? 'female' : job.stage === 'spigot thread' ? 'male' : null;
  const tracker = part && job.threads[part].tracker;
  switch (notice.what) {
    case 'job-begun':
      return heard.length > 0 || (capture?.readings.length ?? 0) > 0;
    case 'touched-off':
      return tracker?.kind === 'tracking' && tracker.count !== tracker.touchedAt;
    case 'depth-voided':
      return tracker?.kind === 'void';
    default:
      return false;
  }
}

/** The number, where things stand and what to do, in the few rows there are; in the last one what is too small. */
function tooSmall(scene: Scene, { columns, rows }: Size): readonly Row[] {
  const { big, standing, next, caution, title } = scene;
  const said = (text: string, style: Style): readonly Row[] =>
    wrapped(text, columns).map((line) => row(run(line, style)));
  const lines: readonly Row[] = [
    row(run(title, 'title')),
    ...(big ? [row(run(`${big.text} ${big.unit}`.trim(), big.style), run(` ${big.label}`, 'quiet'))] : []),
    ...(standing ? [row(run(`${standing.mark} ${standing.word}`, standing.style))] : []),
    ...said(next, 'next'),
    ...(caution ? said(`${MARKS.alert} ${caution}`, 'caution') : []),
  ];
  const complaint = `${columns}x${rows} is too small: ${LEAST.columns}x${LEAST.rows} shows all`;
  return [...tall(lines, rows - 1), row(run(complaint, 'bad'))];
}
