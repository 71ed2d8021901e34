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
import { basicHeight } from '../core/thread/form.ts';
import { type Ovality, taperOf } from '../core/thread/taper-and-oval.ts';
import { inDegrees, type Length, type LengthUnit, mm } from '../core/units.ts';
import { element, saying } from './svg.ts';
import { cutterWords, equipment, feedWords, threadWords } from './words.ts';

/** One row; a figure that is null is left to be written in by hand. */
export type TableRow = readonly [what: string, figure: string | null];

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

/** Half-width of a diameter's 95 % interval; null while it is not measured. */
function diameterHalf(job: Job, name: 'bore' | 'spigot'): Length | null {
  const doubt = name === 'bore' ? boreDoubt(job) : job.spigot && spigotDoubt(job);
  return doubt && mm(doubt.expanded95);
}

/** Half-width of the clearance's 95 % interval, and what most of it comes from. */
export function clearanceHalf(job: Job): { readonly half: Length; readonly mostFrom: string } | null {
  const doubt = clearanceInDoubt(job);
  return doubt && { half: mm(doubt.expanded95), mostFrom: doubt.largest.name };
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
  return [withDoubt(bore.diameter, diameterHalf(job, 'bore') ?? mm(0), unit), how];
}

/** `whole` is the job with its planned bore where none is measured. */
function targetFigure(job: Job, whole: Job, unit: LengthUnit): Shown {
  const aim = aimOf(whole);
  if (aim.kind !== 'aim') return [null, ''];
  const from = job.bore ? '' : ', for the planned bore';
  const half = clearanceHalf(whole)?.half;
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
  if (spigot.turned !== undefined)
    return [
      withDoubt(spigot.diameter, diameterHalf(job, 'spigot') ?? mm(0), unit),
      `over its crests; turned to ${lengthFigure(spigot.turned, unit)}`,
    ];
  const aim = aimOf(job);
  const over = aim.kind === 'aim' ? mm(spigot.diameter - aim.target) : null;
  const off =
    over === null
      ? ''
      : `${lengthFigure(mm(Math.abs(over)), unit)} ${over < 0 ? 'under' : 'over'} the target`;
  return [withDoubt(spigot.diameter, diameterHalf(job, 'spigot') ?? mm(0), unit), off];
}

function fitFigure(job: Job, unit: LengthUnit): Shown {
  const last = job.trials.at(-1);
  const expected = job.spigot ? expectedOf(job, job.spigot) : null;
  const half = clearanceHalf(job)?.half;
  const clearance =
    expected?.kind === 'expected' && half !== undefined
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

/** One figure large, with a line of small words under it. */
const keyFigure = (what: string, figure: string | null, under: string): string =>
  element(
    'div',
    {},
    saying('dt', what) +
      element('dd', {}, figure === null ? blank : forMarkup(figure)) +
      (under === '' ? '' : saying('dd', under, { class: 'under' })),
  );

/** The strip under the name. */
export function keyFigures(job: Job, whole: Job, unit: LengthUnit): string {
  const cells = keyRows(job, whole, unit);
  return element('dl', {}, cells.map(([what, [figure, under]]) => keyFigure(what, figure, under)).join(''));
}

const wantedRows = ({ setup }: Job, unit: LengthUnit): readonly TableRow[] =>
  setup.fit === 'plain'
    ? []
    : [
        ['thread', threadWords(setup, unit)],
        ['cutter', cutterWords(setup.cutter, unit)],
        ['feed', feedWords(setup, unit)],
      ];

/** What was planned, and with which tools. */
export function setupRows(job: Job, unit: LengthUnit): readonly TableRow[] {
  const { setup, zero } = job;
  const { name, limitOfError } = setup.caliper;
  return [
    ['joint', `${setup.fit === 'plain' ? 'plain, no thread' : 'threaded'}, ${setup.bored} bored`],
    ...wantedRows(job, unit),
    setup.wanted < 0
      ? ['hold wanted', lengthFigure(mm(-setup.wanted), unit)]
      : ['clearance wanted', lengthFigure(setup.wanted, unit)],
    ['caliper', `${equipment(name)}, ± ${fineFigure(limitOfError, unit)}`],
    ...(zero
      ? [
          [
            zero.applied ? 'zero error corrected' : 'zero error not corrected',
            lengthFigure(zero.error, unit),
          ] as const,
        ]
      : []),
  ];
}

function cutRow(job: Job, part: Part, unit: LengthUnit): TableRow {
  const { cut, chased, hardened } = job.threads[part];
  const what = part === 'female' ? 'bore thread cut' : 'spigot thread cut';
  if (chased) return [what, chasedText(chased, unit)];
  if (!cut) return [what, null];
  const counted = cut.detents === null ? '' : `, ${cut.detents} detents`;
  const proven = cut.proven || cut.detents === null ? '' : ', not proven';
  return [what, `${lengthFigure(cut.depth, unit)}${counted}${proven}${hardened ? ', hardened' : ''}`];
}

function grainRows({ grain }: Job, unit: LengthUnit): readonly TableRow[] {
  if (!grain) return [];
  const turn = `${inDegrees(grain.angle).toFixed(0)}° still to turn`;
  return [['grain', `${turn}: take ${lengthFigure(grain.trim, unit)} off the shoulder`]];
}

/** Engagement, chances and doubt of the pair as it is now. */
function fitRows(job: Job): readonly TableRow[] {
  const { spigot } = job;
  const expected = spigot ? expectedOf(job, spigot) : null;
  if (!spigot || expected?.kind !== 'expected') return [];
  const [engaged, doubt] = [engagementHalf(job), clearanceHalf(job)];
  const chances = trialChances(job, spigot);
  const known = (word: 'seized' | 'tight' | 'running' | 'loose') =>
    `${word} ${percent(chances?.[word] ?? 0)}`;
  return [
    ...(expected.fit && engaged !== null
      ? [['engagement', percentWithDoubt(expected.fit.engagement, engaged)] as const]
      : []),
    ...(chances && job.setup.fit === 'threaded'
      ? [
          [
            'chances at first trial',
            `${known('seized')}, ${known('tight')}, ${known('running')}, ${known('loose')}`,
          ] as const,
        ]
      : []),
    ...(doubt ? [['biggest unknown', doubt.mostFrom] as const] : []),
  ];
}

/** How far bore and spigot are from round and parallel, each ovality's share of the doubt, and how loose that leaves the pair. */
export function shapeRows(job: Job, unit: LengthUnit): readonly TableRow[] {
  const { bore, spigot } = job;
  const shares = clearanceInDoubt(job)?.shares ?? [];
  const oval = (part: Part, of: Ovality | null): readonly string[] => {
    if (!of) return [];
    const share = shares.find(({ name }) => name === ovalDoubt(part))?.share ?? 0;
    return [
      of.round ? 'round' : `oval ${lengthFigure(of.difference, unit)} (${percent(share)} of the doubt)`,
    ];
  };
  const [boreEnds, spigotEnds] = [boreAlong(job), spigotAlong(spigot)];
  const shapes = {
    bore: [
      ...oval('female', ovalityIn(bore)),
      ...(boreEnds ? [taperFigure(taperOf(boreEnds), BORE_ENDS, unit)] : []),
    ],
    spigot: [
      ...oval('male', ovalityIn(spigot)),
      ...(spigotEnds ? [taperFigure(taperOf(spigotEnds), SPIGOT_ENDS, unit)] : []),
    ],
  };
  const { spread } = outOfTrue(job);
  return [
    ...(['bore', 'spigot'] as const).flatMap((part) =>
      shapes[part].length > 0 ? [[`shape of the ${part}`, shapes[part].join('; ')] as const] : [],
    ),
    ...(spigot && spread > 0
      ? [['loosest clearance', `${lengthFigure(spread, unit)} more than at its tightest`] as const]
      : []),
  ];
}

/** The latest are shown; the records keep all of them. */
const TRIALS = 4;

function trialRows({ trials }: Job): readonly TableRow[] {
  if (trials.length === 0) return [];
  const over = Math.max(0, trials.length - TRIALS);
  const shown = trials.slice(over).map(({ verdict, relieved, reworked }, at) => {
    const then = `${relieved ? ', crests relieved' : ''}${reworked ? ', cut deeper' : ''}`;
    return `${over + at + 1} ${verdict}${then}`;
  });
  return [['trials', `${over > 0 ? 'latest: ' : ''}${shown.join('; ')}`]];
}

export function madeRows(job: Job, unit: LengthUnit): readonly TableRow[] {
  const threads = job.setup.fit === 'plain' ? [] : [cutRow(job, 'female', unit), cutRow(job, 'male', unit)];
  return [...threads, ...fitRows(job), ...trialRows(job), ...grainRows(job, unit)];
}
