// Jobs as an unfriendly file could hold them: a job with every kind of fact, and the same with one value made absurd.

import { figuresOf } from '../../../src/commands/jobs/figures.ts';
import { factWords } from '../../../src/commands/jobs/words.ts';
import { type Entry, type Fact, STAGES } from '../../../src/core/bench/entry.ts';
import { jobOf } from '../../../src/core/bench/job.ts';
import { learnedFrom } from '../../../src/core/bench/lessons.ts';
import { startBench, step } from '../../../src/core/bench/step.ts';
import { degrees, millis, mm } from '../../../src/core/units.ts';
import { HEADER, lineOf, plainRowsOf } from '../../../src/records/codec/row.ts';
import { sceneOf } from '../../../src/screen/scenes/scene-of.ts';
import { sheetPage } from '../../../src/sheet/page.ts';
import { idFrom, setupNamed } from './sample.ts';

const FACTS: readonly Fact[] = [
  {
    kind: 'job-begun',
    setup: {
      ...setupNamed('hostile'),
      cutter: {
        name: 'round',
        angle: degrees(60),
        tip: { kind: 'radius', radius: mm(0.1) },
        diameter: mm(20),
      },
      plannedBore: mm(40),
      measuring: { tolerance: mm(0.02), leastTops: 3, tilt: degrees(1) },
      learned: { shift: mm(0.01), spread: mm(0.02), reasons: ['three trials'] },
    },
  },
  { kind: 'zero-taken', error: mm(0.01), standard: mm(0.01), applied: true },
  { kind: 'ring-taken', known: mm(20), measured: mm(19.99), land: mm(0.6) },
  { kind: 'hollow-measured', where: 'mouth', diameter: mm(40), how: 'typed' },
  { kind: 'hollow-measured', where: 'depth', diameter: mm(40.1), how: 'typed' },
  { kind: 'touched-off', part: 'female', mark: { total: 3, at: millis(5) } },
  { kind: 'feed-counted', part: 'female', mark: { total: 8, at: millis(9) } },
  { kind: 'thread-cut', part: 'female', detents: 5, depth: mm(1), proven: true },
  {
    ...{ kind: 'bore-taken', diameter: mm(40), standard: mm(0.01), degreesOfFreedom: 4 },
    ...{ tops: 4, agreeing: 3, spread: mm(0.02), how: 'rocked' },
  },
  { kind: 'target-set', bore: mm(40), target: mm(41.1), low: mm(41), high: mm(41.2), limit: mm(1.25) },
  { kind: 'spigot-taken', diameter: mm(41.1), how: 'read', fit: 'running', clearance: mm(0.15) },
  { kind: 'thread-cut', part: 'male', detents: 5, depth: mm(1), proven: true },
  {
    ...{ kind: 'thread-chased', part: 'male', strokes: 12, how: 'flat' },
    ...{ depth: mm(0.9), within: mm(0.09), flat: mm(0.4) },
  },
  { kind: 'crests-measured', diameter: mm(41), how: 'read' },
  { kind: 'trial-made', verdict: 'tight', clearance: mm(0.1), standard: mm(0.05) },
  { kind: 'grain-seen', angle: degrees(40), trim: mm(0.2), part: 'lid' },
  { kind: 'note-added', text: 'a note' },
];

/** Those that hold no number to make absurd. */
const PLAIN: readonly Fact[] = [
  { kind: 'setup-changed', setup: setupNamed('planned again') },
  { kind: 'stage-entered', stage: 'spigot thread' },
  { kind: 'stroke', part: 'male' },
  { kind: 'capture-doubted', stage: 'bore size', reason: 'the peaks differ' },
  { kind: 'depth-voided', part: 'male', why: 'overrun' },
  { kind: 'hardened', part: 'female' },
  { kind: 'crests-relieved', part: 'male' },
  { kind: 'job-renamed', name: 'another name' },
  { kind: 'undone', entry: idFrom(0, 0) },
  { kind: 'job-removed' },
  { kind: 'job-restored' },
  { kind: 'job-closed', how: 'runs' },
  { kind: 'job-reopened' },
];

/** A job with a fact of every kind, and a reading behind each. */
export const everyFact = (seed: number): readonly Entry[] => entriesOf(seed, [...FACTS, ...PLAIN]);

function entriesOf(seed: number, facts: readonly Fact[]): readonly Entry[] {
  const shown = { text: '40.00', unit: 'mm', step: mm(0.01), value: mm(40) } as const;
  const reading = { ...shown, at: millis(7), raw: '' };
  return facts.map((fact, place) => ({
    id: idFrom(seed, place + 1),
    job: idFrom(seed, 0),
    at: 1_700_000_000_000 + place,
    fact,
    readings: [reading],
  }));
}

type Plain = Record<string, unknown>;
type Path = readonly string[];

function leavesOf(plain: unknown, path: Path = []): readonly Path[] {
  if (typeof plain !== 'object' || plain === null) return [path];
  return Object.entries(plain).flatMap(([key, value]) => leavesOf(value, [...path, key]));
}

function withLeaf(plain: unknown, [key, ...rest]: Path, value: unknown): unknown {
  if (key === undefined) return value;
  if (Array.isArray(plain)) return plain.with(Number(key), withLeaf(plain[Number(key)], rest, value));
  const object = plain as Plain;
  return { ...object, [key]: withLeaf(object[key], rest, value) };
}

/** What no turner measured. */
const ABSURD: readonly unknown[] = [
  ...[0, -1, -0.001, 1e-9, 1e-300, 0.5, 1e5, 1e9, 2 ** 31, 2 ** 53 - 1, 1e21, 1e308, -1e308],
  ...[null, true, '', 'x', 'infinite', [], {}, 'y'.repeat(900), '\u202e\u001b[31m', 4, 179.99, 180, 360],
];

/** Exports of a job in which one value is replaced: every absurd value in every place, one after another. */
export function* hostileExports(seed: number): Generator<{ readonly what: string; readonly text: string }> {
  const rows = entriesOf(seed, FACTS).flatMap((entry, at) => plainRowsOf(entry, at + 1));
  for (const [at, row] of rows.entries())
    for (const path of leavesOf(row))
      for (const value of ABSURD) {
        const changed = rows.with(at, withLeaf(row, path, value) as object);
        const what = `${at} ${path.join('.')} = ${JSON.stringify(value)?.slice(0, 30)}`;
        yield { what, text: `${[HEADER, ...changed.map(lineOf)].join('\n')}\n` };
      }
}

/** All that the program says of a job: as words, figures, a sheet in both units, and the bench at every stage. */
export function everythingSaid(log: readonly Entry[]): string {
  const job = jobOf(log);
  if (!job) return '';
  const scenes = STAGES.map((stage) => {
    const fact = { kind: 'stage-entered', stage } as const;
    const entered = { id: 'x', job: job.id, at: 1, fact, readings: [] };
    const start = startBench(millis(0), 1_700_000_000_000, 'mm');
    return sceneOf(step(start, { kind: 'job-opened', log: [...log, entered] }).bench);
  });
  return JSON.stringify([
    figuresOf(job),
    log.map(({ fact }) => factWords(fact, 'in')),
    sheetPage(job, 'mm', '2026-01-01'),
    sheetPage(job, 'in', '2026-01-01'),
    learnedFrom(job.setup, [job, job, job]),
    scenes,
  ]);
}
