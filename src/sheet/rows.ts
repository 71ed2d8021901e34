// The figures of the page: what the job is to be, what was measured and cut, and the fit that comes of it.

import { chancesFor } from '../core/bench/doubt.ts';
import type { Job } from '../core/bench/job.ts';
import type { Part } from '../core/bench/setup.ts';
import { expectedOf } from '../core/bench/target.ts';
import { fineFigure, lengthFigure, percent, percentWithDoubt } from '../core/figures.ts';
import { inDegrees, type LengthUnit, mm } from '../core/units.ts';
import { clearanceHalf, engagementHalf } from './doubts.ts';
import type { Row } from './table.ts';
import { cutterWords, equipment, feedWords, threadWords } from './words.ts';

const wantedRows = ({ setup }: Job, unit: LengthUnit): readonly Row[] =>
  setup.fit === 'plain'
    ? []
    : [
        ['thread', threadWords(setup, unit)],
        ['cutter', cutterWords(setup.cutter, unit)],
        ['feed', feedWords(setup, unit)],
      ];

/** What the job was to be, and with what. */
export function setupRows(job: Job, unit: LengthUnit): readonly Row[] {
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
            zero.applied ? 'zero error taken off' : 'zero error left in',
            lengthFigure(zero.error, unit),
          ] as const,
        ]
      : []),
  ];
}

function cutRow(job: Job, part: Part, unit: LengthUnit): Row {
  const { cut, hardened } = job.threads[part];
  const what = part === 'female' ? 'bore thread cut' : 'spigot thread cut';
  if (!cut) return [what, null];
  const counted = cut.detents === null ? '' : `, ${cut.detents} detents`;
  const proven = cut.proven || cut.detents === null ? '' : ', not proven';
  return [what, `${lengthFigure(cut.depth, unit)}${counted}${proven}${hardened ? ', hardened' : ''}`];
}

function grainRows({ grain }: Job, unit: LengthUnit): readonly Row[] {
  if (!grain) return [];
  const turn = `${inDegrees(grain.angle).toFixed(0)}° to go`;
  return [['grain', `${turn}: take ${lengthFigure(grain.trim, unit)} off shoulder`]];
}

/** Engagement, chances and doubt of the pair as it stands. */
function fitRows(job: Job): readonly Row[] {
  const { spigot } = job;
  const expected = spigot ? expectedOf(job, spigot.diameter) : null;
  if (!spigot || expected?.kind !== 'expected') return [];
  const [engaged, doubt] = [engagementHalf(job), clearanceHalf(job)];
  const chances = chancesFor(job, spigot.diameter);
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
    ...(doubt ? [['most of the doubt from', doubt.mostFrom] as const] : []),
  ];
}

/** The latest are shown; the records keep all of them. */
const TRIALS = 4;

function trialRows({ trials }: Job): readonly Row[] {
  if (trials.length === 0) return [];
  const over = Math.max(0, trials.length - TRIALS);
  const shown = trials.slice(over).map(({ verdict, relieved, reworked }, at) => {
    const then = `${relieved ? ', crests relieved' : ''}${reworked ? ', cut deeper' : ''}`;
    return `${over + at + 1} ${verdict}${then}`;
  });
  return [['trials', `${over > 0 ? 'latest: ' : ''}${shown.join('; ')}`]];
}

export function madeRows(job: Job, unit: LengthUnit): readonly Row[] {
  const threads = job.setup.fit === 'plain' ? [] : [cutRow(job, 'female', unit), cutRow(job, 'male', unit)];
  return [...threads, ...fitRows(job), ...trialRows(job), ...grainRows(job, unit)];
}
