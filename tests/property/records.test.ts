// Laws of the records: whatever a bench may keep comes back the same, merges in any order to the same, and never twice.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Entry, type Fact, type KeptReading, STAGES } from '../../src/core/bench/entry.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { degrees, type Length, millis, mm, tpi } from '../../src/core/units.ts';
import type { Records } from '../../src/records/jobs.ts';
import { exportedText, freshHome, importText, must, opened } from '../support/records-home.ts';

/** Every number up to `most` but a minus of nothing, which JSON writes as 0, and what is too close to zero to be kept. */
const upTo = (most: number): fc.Arbitrary<number> =>
  fc.double({ noNaN: true, min: -most, max: most }).map((value) => (Math.abs(value) < 1e-15 ? 0 : value));
const finite = upTo(8.64e15);
const length: fc.Arbitrary<Length> = upTo(1e5).map(mm);
const unsigned = upTo(1e5).map((value) => mm(Math.abs(value)));
const positive = unsigned.filter((value) => value > 0);
const positiveNumber = upTo(1e12)
  .map(Math.abs)
  .filter((value) => value > 0);
const orNull = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(of, { nil: null });
const text = fc.string({ unit: 'grapheme', maxLength: 40 });
const angle = fc.integer({ min: -3600, max: 3600 }).map((tenths) => degrees(tenths / 10));
const part = fc.constantFrom('female' as const, 'male' as const);
const how = fc.constantFrom('rocked' as const, 'read' as const, 'typed' as const);
const fit = fc.constantFrom('seized' as const, 'tight' as const, 'running' as const, 'loose' as const);
const stage = fc.constantFrom(...STAGES);
const time = finite.map(millis);
const is = <const K extends string>(kind: K) => fc.constant(kind);
const mark = fc.record({ total: fc.integer(), board: text, at: time }, { requiredKeys: ['total', 'at'] });

const setup: fc.Arbitrary<Setup> = fc.record(
  {
    name: text,
    wood: text,
    lidWood: text,
    fit: fc.constantFrom('threaded' as const, 'plain' as const),
    pitch: fc.oneof(
      fc
        .integer({ min: 4, max: 40 })
        .map((threads) => ({ length: tpi(threads), given: { kind: 'tpi' as const, threads } })),
      positive.map((of) => ({ length: of, given: { kind: 'metric' as const } })),
    ),
    starts: fc.integer({ min: 1, max: 6 }),
    cutter: fc.record(
      {
        name: text,
        angle,
        tip: fc.oneof(
          fc.constant({ kind: 'sharp' as const }),
          length.map((width) => ({ kind: 'flat' as const, width })),
          length.map((radius) => ({ kind: 'radius' as const, radius })),
        ),
        diameter: length,
        topSpeed: positiveNumber,
      },
      { requiredKeys: ['name', 'angle', 'tip'] },
    ),
    depth: fc.record({ female: length, male: length }),
    bored: fc.constantFrom('lid' as const, 'body' as const),
    wanted: length,
    bounds: fc.record({ runningFrom: length, looseFrom: length }),
    unit: fc.constantFrom('mm' as const, 'in' as const),
    caliper: fc.record(
      { name: text, limitOfError: unsigned, step: unsigned, jawLand: length },
      { requiredKeys: ['name', 'limitOfError', 'step'] },
    ),
    feed: fc.record({ name: text, perDetent: positive, lostDetents: fc.nat(), perDetentStandard: unsigned }),
    plannedBore: length,
    engagedLength: length,
    hardens: fc.boolean(),
    measuring: fc.record({ tolerance: length, leastTops: fc.integer({ min: 1 }), tilt: angle }),
    learned: fc.record({ shift: length, spread: unsigned, reasons: fc.array(text, { maxLength: 3 }) }),
  },
  {
    requiredKeys: [
      'name',
      'fit',
      'pitch',
      'starts',
      'cutter',
      'depth',
      'bored',
      'wanted',
      'bounds',
      'unit',
      'caliper',
      'hardens',
    ],
  },
);

const freedom = fc.oneof(
  fc.double({ noNaN: true, min: 0.5, max: 1e12 }),
  fc.constant(Number.POSITIVE_INFINITY),
);
type FactOf<K extends Fact['kind']> = Extract<Fact, { kind: K }>;

/** Every kind of fact: a kind added to core does not compile until it is here. */
const facts: { readonly [K in Fact['kind']]: fc.Arbitrary<FactOf<K>> } = {
  'job-begun': fc.record({ kind: is('job-begun'), setup }),
  'setup-changed': fc.record({ kind: is('setup-changed'), setup }),
  'stage-entered': fc.record({ kind: is('stage-entered'), stage }),
  'zero-taken': fc.record(
    { kind: is('zero-taken'), error: length, standard: unsigned, applied: fc.boolean(), board: text },
    { requiredKeys: ['kind', 'error', 'standard', 'applied'] },
  ),
  'ring-taken': fc.record({ kind: is('ring-taken'), known: length, measured: length, land: length }),
  'hollow-measured': fc.record({
    kind: is('hollow-measured'),
    where: fc.constantFrom('mouth' as const, 'depth' as const),
    diameter: length,
    how,
  }),
  'bore-taken': fc.record({
    kind: is('bore-taken'),
    diameter: length,
    standard: orNull(unsigned),
    degreesOfFreedom: orNull(freedom),
    tops: fc.nat(),
    agreeing: fc.nat(),
    spread: orNull(unsigned),
    how,
  }),
  'capture-doubted': fc.record({ kind: is('capture-doubted'), stage, reason: text }),
  'target-set': fc.record({
    kind: is('target-set'),
    bore: length,
    target: length,
    low: length,
    high: length,
    limit: length,
  }),
  'spigot-taken': fc.record({ kind: is('spigot-taken'), diameter: length, how, fit, clearance: length }),
  'touched-off': fc.record({ kind: is('touched-off'), part, mark }),
  'feed-counted': fc.record({ kind: is('feed-counted'), part, mark }),
  'depth-voided': fc.record({
    kind: is('depth-voided'),
    part,
    why: fc.constantFrom('restart' as const, 'overrun' as const, 'other-board' as const),
  }),
  'thread-cut': fc.record({
    kind: is('thread-cut'),
    part,
    detents: orNull(fc.nat()),
    depth: length,
    proven: fc.boolean(),
  }),
  stroke: fc.record({ kind: is('stroke'), part }),
  'thread-chased': fc.record(
    {
      kind: is('thread-chased'),
      part,
      strokes: fc.nat(),
      how: fc.constantFrom('flat' as const, 'strokes' as const, 'trial' as const),
      depth: orNull(unsigned),
      within: orNull(unsigned),
      flat: unsigned,
    },
    { requiredKeys: ['kind', 'part', 'strokes', 'how', 'depth', 'within'] },
  ),
  'crests-measured': fc.record({ kind: is('crests-measured'), diameter: length, how }),
  hardened: fc.record({ kind: is('hardened'), part }),
  'trial-made': fc.record({
    kind: is('trial-made'),
    verdict: fit,
    clearance: orNull(length),
    standard: orNull(unsigned),
  }),
  'crests-relieved': fc.record({ kind: is('crests-relieved'), part }),
  'grain-seen': fc.record({
    kind: is('grain-seen'),
    angle,
    trim: length,
    part: fc.constantFrom('lid' as const, 'body' as const),
  }),
  'note-added': fc.record({ kind: is('note-added'), text }),
  'job-renamed': fc.record({ kind: is('job-renamed'), name: text }),
  'job-closed': fc.record({
    kind: is('job-closed'),
    how: fc.constantFrom('runs' as const, 'given-up' as const),
  }),
  'job-reopened': fc.record({ kind: is('job-reopened') }),
  'job-removed': fc.record({ kind: is('job-removed') }),
  'job-restored': fc.record({ kind: is('job-restored') }),
  undone: fc.record({ kind: is('undone'), entry: fc.uuid() }),
};
const fact: fc.Arbitrary<Fact> = fc.oneof(...Object.values<fc.Arbitrary<Fact>>(facts));

const reading: fc.Arbitrary<KeptReading> = fc.record({
  text,
  unit: fc.constantFrom('mm' as const, 'in' as const),
  step: length,
  value: length,
  at: time,
  raw: text,
});

const JOBS = ['job-a', 'job-b', 'job-c'];
const entry: fc.Arbitrary<Entry> = fc.record({
  id: fc.uuid(),
  job: fc.constantFrom(...JOBS),
  at: finite,
  fact,
  readings: fc.array(reading, { maxLength: 20 }),
});
const logs = fc.uniqueArray(entry, { maxLength: 12, selector: ({ id }) => id });

const allOf = (records: Records): readonly (readonly Entry[])[] =>
  JOBS.map((job) => must(records.entriesOf(job)));
const prototypes = (entries: readonly Entry[]): unknown => JSON.parse(JSON.stringify(entries, infinite));
const infinite = (_: string, value: unknown): unknown =>
  value === Number.POSITIVE_INFINITY ? 'infinite' : value;

test('whatever is appended comes back the same and in the same order', () => {
  fc.assert(
    fc.property(logs, (entries) => {
      const records = opened(freshHome());
      for (const each of entries) must(records.append(each));
      for (const job of JOBS)
        expect(prototypes(must(records.entriesOf(job)))).toEqual(
          prototypes(entries.filter((each) => each.job === job)),
        );
    }),
    { numRuns: 20 },
  );
});

test('exports imported twice and merged in any order give the same jobs, nothing twice, and the same bytes', async () => {
  await fc.assert(
    fc.asyncProperty(logs, logs, fc.nat({ max: 12 }), async (mine, theirs, shared) => {
      const [here, there, one, other] = [1, 2, 3, 4].map(() => opened(freshHome()));
      if (!here || !there || !one || !other) throw new Error('four homes were opened');
      must(here.appendAll(mine.slice(0, shared)));
      const common = exportedText(here);
      await importText(there, common);
      must(here.appendAll(mine.slice(shared)));
      must(there.appendAll(theirs));
      const files = [exportedText(here), exportedText(there), common] as const;
      for (const file of [files[0], files[0], files[1]]) await importText(one, file);
      for (const file of [files[1], files[2], files[0], files[1]]) await importText(other, file);
      expect(exportedText(one)).toBe(exportedText(other));
      expect(allOf(one)).toEqual(allOf(other));
      const again = await importText(one, exportedText(other));
      expect([again.entries.added, again.readings.added, again.refused]).toEqual([0, 0, 0]);
      const summaries = (records: Records) =>
        must(records.list())
          .jobs.map(({ number: _, ...job }) => job)
          .toSorted((a, b) => (a.id < b.id ? -1 : 1));
      expect(summaries(one)).toEqual(summaries(other));
    }),
    { numRuns: 10 },
  );
});

test('an import of anything at all throws nothing and keeps what was there', async () => {
  const lines = fc.array(
    fc.oneof(
      fc.string({ maxLength: 60 }),
      fc.json({ maxDepth: 3 }),
      fc.constantFrom(
        '{"row":"header","format":"lidwright-jobs","v":1}',
        '{"row":"entry"}',
        '{"row":"reading","entry":"e"}',
      ),
      fc
        .record({
          row: fc.constantFrom('entry', 'reading'),
          id: fc.anything(),
          job: fc.anything(),
          n: fc.anything(),
          atMs: fc.anything(),
          readings: fc.anything(),
          fact: fc.oneof(fc.anything(), fact),
        })
        .map(
          (row) =>
            JSON.stringify(row, (_, value: unknown) => (typeof value === 'bigint' ? String(value) : value)) ??
            '',
        ),
    ),
    { maxLength: 20 },
  );
  const records = opened(freshHome());
  must(
    records.append({ id: 'e', job: 'kept', at: 1, fact: { kind: 'note-added', text: 'here' }, readings: [] }),
  );
  await fc.assert(
    fc.asyncProperty(lines, async (rows) => {
      const header = '{"row":"header","format":"lidwright-jobs","v":1}';
      const report = await importText(records, `${[header, ...rows].join('\n')}\n`);
      expect(report.refused).toBeGreaterThanOrEqual(0);
      expect(must(records.entriesOf('kept'))).toHaveLength(1);
    }),
    { numRuns: 60 },
  );
});
