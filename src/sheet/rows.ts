// The figures of the page and their tables: the four that a turner looks for first, what was planned, what was made, how sure that is.
import { boreDoubt, clearanceInDoubt, spigotDoubt } from '../core/bench/doubt.ts';
import type { Job } from '../core/bench/job.ts';
import {
  BORE_ENDS,
  boreAlong,
  outOfTrue,
  ovalDoubt,
  ovalityIn,
  SPIGOT_ENDS,
  spigotAlong,
} from '../core/bench/out-of-true.ts';
import type { Part } from '../core/bench/setup.ts';
import { aimOf, expectedOf, trialChances } from '../core/bench/target.ts';
import { chasedText, isUnmeasured } from '../core/bench/threads.ts';
import {
  band,
  cutFigure,
  fineFigure,
  lengthFigure,
  percent,
  percentWithDoubt,
  taperFigure,
  withDoubt,
} from '../core/figures.ts';
import { forMarkup } from '../core/safe-text.ts';
import { allowanceBudget } from '../core/thread/chances.ts';
import { FIT_ORDER } from '../core/thread/fit.ts';
import { basicHeight } from '../core/thread/form.ts';
import { type Along, type Ovality, taperOf } from '../core/thread/taper-and-oval.ts';
import { inDegrees, type Length, type LengthUnit, mm } from '../core/units.ts';
import { element, saying } from './svg.ts';
import { cutterWords, equipment, feedWords, threadWords } from './words.ts';

/** One row; a figure that is null is left to be written in by hand. */
type TableRow = readonly [what: string, figure: string | null];

/** Rows by name in their order, without those of which there is nothing to say. */
const rowsFrom = (of: { readonly [what: string]: string | null | undefined }): readonly TableRow[] =>
  Object.entries(of).flatMap(([what, figure]) => (figure === undefined ? [] : [[what, figure] as const]));

const blank = saying('span', 'not yet', { class: 'blank' });

const rowOf = ([what, figure]: TableRow): string =>
  element(
    'tr',
    {},
    saying('th', what, { scope: 'row' }) + element('td', {}, figure === null ? blank : forMarkup(figure)),
  );

/** A section with its heading; nothing at all where there is nothing in it. */
export const section = (title: string, content: string, name = ''): string =>
  content === '' ? '' : element('section', name === '' ? {} : { class: name }, saying('h2', title) + content);

export const table = (title: string, rows: readonly TableRow[]): string =>
  rows.length === 0
    ? ''
    : section(title, element('table', {}, element('tbody', {}, rows.map(rowOf).join(''))));

/** Half-width of the clearance's 95 % interval; null while it is not known. */
export function clearanceHalf(job: Job): Length | null {
  const doubt = clearanceInDoubt(job);
  return doubt && mm(doubt.expanded95);
}

/** Half-width of the engagement's 95 % interval, as a share: the allowance's, over twice the basic height. */
function engagementHalf(job: Job): number | null {
  const bore = boreDoubt(job);
  if (!bore || !job.spigot) return null;
  const allowance = allowanceBudget({ bore, spigot: spigotDoubt(job) });
  return allowance.expanded95 / (2 * basicHeight(job.setup.pitch.length, job.setup.cutter.angle));
}

type Shown = readonly [figure: string | null, under: string];

function boreFigure(job: Job, unit: LengthUnit): Shown {
  const { bore, setup } = job;
  if (!bore)
    return [null, setup.plannedBore === undefined ? '' : `planned ${lengthFigure(setup.plannedBore, unit)}`];
  const how = bore.how === 'rocked' ? `rocked, ${bore.agreeing} of ${bore.tops} peaks agree` : bore.how;
  return [withDoubt(bore.diameter, mm(boreDoubt(job)?.expanded95 ?? 0), unit), how];
}

/** `whole` is the job with its planned bore where none is measured. */
function targetFigure(job: Job, whole: Job, unit: LengthUnit): Shown {
  const aim = aimOf(whole);
  if (aim.kind !== 'aim') return [null, ''];
  const from = job.bore ? '' : ', for the planned bore';
  const half = clearanceHalf(whole) ?? undefined;
  if (isUnmeasured(whole))
    return [`${cutFigure(aim.target, unit)} ${unit}`, `for threads of the planned depth${from}`];
  return [
    `${cutFigure(aim.target, unit, half)} ${unit}`,
    `runs from ${band(aim.low, aim.high, unit, half)}${from}`,
  ];
}

function spigotFigure(job: Job, unit: LengthUnit): Shown {
  const { spigot } = job;
  if (!spigot) return [null, ''];
  const figure = withDoubt(spigot.diameter, mm(spigotDoubt(job).expanded95), unit);
  if (spigot.turned !== undefined)
    return [figure, `over its crests; turned to ${lengthFigure(spigot.turned, unit)}`];
  const aim = aimOf(job);
  if (aim.kind !== 'aim') return [figure, ''];
  const over = spigot.diameter - aim.target;
  return [figure, `${lengthFigure(mm(Math.abs(over)), unit)} ${over < 0 ? 'under' : 'over'} the target`];
}

function fitFigure(job: Job, unit: LengthUnit): Shown {
  const last = job.trials.at(-1);
  const expected = job.spigot ? expectedOf(job, job.spigot) : null;
  const half = clearanceHalf(job);
  const clearance =
    expected?.kind === 'expected' && half !== null
      ? `clearance ${withDoubt(expected.clearance, half, unit)} expected`
      : '';
  if (last) return [last.verdict, `trial ${job.trials.length}; ${clearance}`.replace(/; $/, '')];
  if (expected?.kind === 'unmeasured') return [null, "by trial: one depth isn't measured"];
  return expected?.kind === 'expected' ? [`${expected.word}, expected`, clearance] : [null, ''];
}

/** The four figures that a turner looks for first: a name, the figure, and the words under it. */
export const keyRows = (job: Job, whole: Job, unit: LengthUnit): readonly (readonly [string, Shown])[] => [
  ['bore', boreFigure(job, unit)],
  ['spigot target', targetFigure(job, whole, unit)],
  ['spigot', spigotFigure(job, unit)],
  [job.trials.length > 0 ? 'fit on trial' : 'fit', fitFigure(job, unit)],
];

/** The strip under the name: each figure large, with a line of small words under it. */
export function keyFigures(job: Job, whole: Job, unit: LengthUnit): string {
  const cells = keyRows(job, whole, unit).map(([what, [figure, under]]) => {
    const large = element('dd', {}, figure === null ? blank : forMarkup(figure));
    const small = under === '' ? '' : saying('dd', under, { class: 'under' });
    return element('div', {}, saying('dt', what) + large + small);
  });
  return element('dl', {}, cells.join(''));
}

/** What the job was to be, and with what. */
export function setupRows({ setup, zero }: Job, unit: LengthUnit): readonly TableRow[] {
  const { name, limitOfError } = setup.caliper;
  const isPlain = setup.fit === 'plain';
  return rowsFrom({
    joint: `${isPlain ? 'plain, no thread' : 'threaded'}, ${setup.bored} bored`,
    thread: isPlain ? undefined : threadWords(setup, unit),
    cutter: isPlain ? undefined : cutterWords(setup.cutter, unit),
    feed: isPlain ? undefined : feedWords(setup, unit),
    [setup.wanted < 0 ? 'hold wanted' : 'clearance wanted']: lengthFigure(mm(Math.abs(setup.wanted)), unit),
    caliper: `${equipment(name)}, ± ${fineFigure(limitOfError, unit)}`,
    [`zero error ${zero?.applied ? '' : 'not '}corrected`]: zero ? lengthFigure(zero.error, unit) : undefined,
  });
}

function cutWords(job: Job, part: Part, unit: LengthUnit): string | null {
  const { cut, chased, hardened } = job.threads[part];
  if (chased) return chasedText(chased, unit);
  if (!cut) return null;
  const counted = cut.detents === null ? '' : `, ${cut.detents} detents`;
  const proven = cut.proven || cut.detents === null ? '' : ', not proven';
  return `${lengthFigure(cut.depth, unit)}${counted}${proven}${hardened ? ', hardened' : ''}`;
}

function grainWords({ grain }: Job, unit: LengthUnit): string | undefined {
  if (!grain) return undefined;
  const turn = `${inDegrees(grain.angle).toFixed(0)}° still to turn`;
  return `${turn}: take ${lengthFigure(grain.trim, unit)} off the shoulder`;
}

/** Engagement, chances and doubt of the pair as it stands. */
function fitRows(job: Job): readonly TableRow[] {
  const { spigot, setup } = job;
  const expected = spigot ? expectedOf(job, spigot) : null;
  if (!spigot || expected?.kind !== 'expected') return [];
  const engaged = engagementHalf(job);
  const chances = setup.fit === 'threaded' ? trialChances(job, spigot) : null;
  return rowsFrom({
    engagement:
      expected.fit && engaged !== null ? percentWithDoubt(expected.fit.engagement, engaged) : undefined,
    'chances at first trial': chances
      ? FIT_ORDER.map((word) => `${word} ${percent(chances[word])}`).join(', ')
      : undefined,
    'biggest unknown': clearanceInDoubt(job)?.largest.name,
  });
}

/** How far bore and spigot are from round and parallel, each ovality's share of the doubt, and how loose that leaves the pair. */
export function shapeRows(job: Job, unit: LengthUnit): readonly TableRow[] {
  const { bore, spigot } = job;
  const shares = clearanceInDoubt(job)?.shares ?? [];
  const shape = (
    part: Part,
    oval: Ovality | null,
    along: Along | null,
    ends: { readonly [end in keyof Along]: string },
  ) => {
    const share = shares.find(({ name }) => name === ovalDoubt(part))?.share ?? 0;
    const round = oval?.round
      ? 'round'
      : oval && `oval ${lengthFigure(oval.difference, unit)} (${percent(share)} of the doubt)`;
    const taper = along && taperFigure(taperOf(along), ends, unit);
    return [round, taper].filter((said) => said !== null).join('; ') || undefined;
  };
  const { spread } = outOfTrue(job);
  return rowsFrom({
    'shape of the bore': shape('female', ovalityIn(bore), boreAlong(job), BORE_ENDS),
    'shape of the spigot': shape('male', ovalityIn(spigot), spigotAlong(spigot), SPIGOT_ENDS),
    'loosest clearance':
      spigot && spread > 0 ? `${lengthFigure(spread, unit)} more than at its tightest` : undefined,
  });
}

/** The latest are shown; the records keep all of them. */
const TRIALS = 4;

function trialWords({ trials }: Job): string | undefined {
  if (trials.length === 0) return undefined;
  const over = Math.max(0, trials.length - TRIALS);
  const shown = trials.slice(over).map(({ verdict, relieved, reworked }, at) => {
    const then = `${relieved ? ', crests relieved' : ''}${reworked ? ', cut deeper' : ''}`;
    return `${over + at + 1} ${verdict}${then}`;
  });
  return `${over > 0 ? 'latest: ' : ''}${shown.join('; ')}`;
}

export function madeRows(job: Job, unit: LengthUnit): readonly TableRow[] {
  const isPlain = job.setup.fit === 'plain';
  return [
    ...rowsFrom({
      'bore thread cut': isPlain ? undefined : cutWords(job, 'female', unit),
      'spigot thread cut': isPlain ? undefined : cutWords(job, 'male', unit),
    }),
    ...fitRows(job),
    ...rowsFrom({ trials: trialWords(job), grain: grainWords(job, unit) }),
  ];
}
