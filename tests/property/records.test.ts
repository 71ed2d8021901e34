// Laws of the records: whatever a bench may keep comes back the same, merges in any order to the same, and never twice.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type Entry,
  type Fact,
  type FeedMark,
  type KeptReading,
  STAGES,
} from '../../src/core/bench/entry.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { degrees, humidityPercent, type Length, millis, mm, tpi } from '../../src/core/units.ts';
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
const humidity = fc.integer({ min: 0, max: 100 }).map(humidityPercent);
const part = fc.constantFrom('female' as const, 'male' as const);
const side = fc.constantFrom('lid' as const, 'body' as const);
const how = fc.constantFrom('rocked' as const, 'read' as const, 'typed' as const);
const fit = fc.constantFrom('seized' as const, 'tight' as const, 'running' as const, 'loose' as const);
const stage = fc.constantFrom(...STAGES);
const unit = fc.constantFrom('mm' as const, 'in' as const);
const time = finite.map(millis);
const freedom = fc.oneof(
  fc.double({ noNaN: true, min: 0.5, max: 1e12 }),
  fc.constant(Number.POSITIVE_INFINITY),
);

interface Maybe<T> {
  readonly maybe: fc.Arbitrary<T>;
}
const maybe = <T>(of: fc.Arbitrary<T>): Maybe<T> => ({ maybe: of });
/** Every field of a type, with `maybe` where it may be missing: a field added to core does not compile until it is here. */
type Fields<T> = {
  readonly [K in keyof T]-?: Record<never, never> extends Pick<T, K>
    ? Maybe<Exclude<T[K], undefined>>
    : fc.Arbitrary<T[K]>;
};

function whole<T extends object>(fields: Fields<T>): fc.Arbitrary<T> {
  const entries = Object.entries<fc.Arbitrary<unknown> | Maybe<unknown>>(fields);
  const model = Object.fromEntries(entries.map(([key, of]) => [key, 'maybe' in of ? of.maybe : of]));
  const requiredKeys = entries.flatMap(([key, of]) => ('maybe' in of ? [] : [key]));
  return fc.record(model, { requiredKeys }) as fc.Arbitrary<unknown> as fc.Arbitrary<T>;
}

type Of<K extends keyof Setup> = NonNullable<Setup[K]>;
const setup = whole<Setup>({
  name: text,
  wood: maybe(text),
  lidWood: maybe(text),
  fit: fc.constantFrom('threaded', 'plain'),
  pitch: fc.oneof(
    fc.integer({ min: 4, max: 40 }).map((threads) => ({
      ...{ length: tpi(threads), given: { kind: 'tpi' as const, threads } },
    })),
    positive.map((of) => ({ length: of, given: { kind: 'metric' as const } })),
  ),
  starts: fc.integer({ min: 1, max: 6 }),
  cutter: whole<Of<'cutter'>>({
    name: text,
    angle,
    tip: fc.oneof(
      fc.constant({ kind: 'sharp' as const }),
      length.map((width) => ({ kind: 'flat' as const, width })),
      length.map((radius) => ({ kind: 'radius' as const, radius })),
    ),
    diameter: maybe(length),
    topSpeed: maybe(positiveNumber),
  }),
  depth: whole<Of<'depth'>>({ female: length, male: length }),
  bored: side,
  wanted: length,
  season: maybe(whole<Of<'season'>>({ from: humidity, to: humidity, remains: maybe(length) })),
  bounds: whole<Of<'bounds'>>({ runningFrom: length, looseFrom: length }),
  unit,
  caliper: whole<Of<'caliper'>>({
    name: text,
    limitOfError: unsigned,
    step: unsigned,
    jawLand: maybe(length),
  }),
  feed: maybe(
    whole<Of<'feed'>>({
      ...{ name: text, perDetent: positive, lostDetents: fc.nat(), perDetentStandard: unsigned },
      ...{ perDetentFreedom: maybe(freedom), touchOff: maybe(positive) },
    }),
  ),
  byHand: maybe(fc.boolean()),
  plannedBore: maybe(length),
  engagedLength: maybe(length),
  hardens: fc.boolean(),
  measuring: maybe(
    whole<Of<'measuring'>>({ tolerance: length, leastTops: fc.integer({ min: 1 }), tilt: angle }),
  ),
  learned: maybe(
    whole<Of<'learned'>>({
      ...{ shift: length, mean: maybe(length), spread: unsigned },
      reasons: fc.array(text, { maxLength: 3 }),
    }),
  ),
});

const mark = whole<FeedMark>({ total: fc.integer(), board: maybe(text), at: time });

/** Every field of every kind of fact. */
const facts: { readonly [K in Fact['kind']]: Fields<Omit<Extract<Fact, { kind: K }>, 'kind'>> } = {
  'job-begun': { setup },
  'setup-changed': { setup },
  'stage-entered': { stage },
  'zero-taken': { error: length, standard: unsigned, applied: fc.boolean(), board: maybe(text) },
  'ring-taken': { known: length, measured: length, land: length },
  'hollow-measured': { where: fc.constantFrom('mouth', 'depth'), diameter: length, how },
  'bore-taken': {
    ...{ diameter: length, standard: orNull(unsigned), degreesOfFreedom: orNull(freedom), tops: fc.nat() },
    ...{ agreeing: fc.nat(), spread: orNull(unsigned), how },
    ...{ across: maybe(length), acrossStandard: maybe(unsigned) },
  },
  'capture-doubted': { stage, reason: text },
  'target-set': {
    ...{ bore: length, target: length, low: length, high: length, limit: length },
    asPlanned: maybe(fc.boolean()),
  },
  'spigot-taken': {
    ...{ diameter: length, how, fit, clearance: length },
    ...{ asPlanned: maybe(fc.boolean()), across: maybe(length), end: maybe(length) },
  },
  'touched-off': { part, mark },
  'feed-counted': { part, mark },
  'depth-voided': { part, why: fc.constantFrom('restart', 'overrun', 'other-board', 'impossible') },
  'thread-cut': { part, detents: orNull(fc.nat()), depth: length, proven: fc.boolean() },
  stroke: { part },
  'thread-chased': {
    ...{ part, strokes: fc.nat(), how: fc.constantFrom('flat', 'strokes', 'trial') },
    ...{ depth: orNull(unsigned), within: orNull(unsigned), flat: maybe(unsigned) },
  },
  'crests-measured': { diameter: length, how },
  hardened: { part },
  'trial-made': { verdict: fit, clearance: orNull(length), standard: orNull(unsigned) },
  'crests-relieved': { part },
  'grain-seen': { angle, trim: length, part: side },
  'note-added': { text },
  'job-renamed': { name: text },
  'job-closed': { how: fc.constantFrom('runs', 'given-up', 'untried') },
  'job-reopened': {},
  'job-removed': {},
  'job-restored': {},
  undone: { entry: fc.uuid() },
};
const fact: fc.Arbitrary<Fact> = fc.oneof(
  ...Object.entries<object>(facts).map(([kind, fields]) =>
    whole<Fact>({ kind: fc.constant(kind), ...fields } as Fields<Fact>),
  ),
);

const reading: fc.Arbitrary<KeptReading> = fc.record({
  ...{ text, unit, step: length, value: length, at: time, raw: text },
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
test('every entry appended comes back the same, once however often it is tried, in the order of appending and not of clocks', () => {
  fc.assert(
    fc.property(logs, (entries) => {
      const records = opened(freshHome());
      for (const each of entries.flatMap((entry) => [entry, entry])) must(records.append(each));
      for (const job of JOBS)
        expect(must(records.entriesOf(job))).toEqual(entries.filter((each) => each.job === job));
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
