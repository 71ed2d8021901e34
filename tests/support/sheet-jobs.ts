// Invented jobs for the job sheet: the smallest, a usual one, the largest, inches, plain lids, and names as long as they get.
import type { Fact } from '../../src/core/bench/entry.ts';
import type { Job } from '../../src/core/bench/job.ts';
import type { Setup } from '../../src/core/bench/setup.ts';
import { aimOf, expectedAsPlanned } from '../../src/core/bench/target.ts';
import { planDepth } from '../../src/core/bench/threads.ts';
import { degrees, inches, type Length, type LengthUnit, mm, tpi } from '../../src/core/units.ts';
import { threaded } from './bench.ts';
import { jobWith } from './job.ts';
import { ofKind } from './of-kind.ts';

export function pitched(setup: Setup): Setup {
  const depth = planDepth(setup.pitch, setup.cutter, setup.feed);
  return { ...setup, depth: { female: depth, male: depth } };
}

export const boreTaken = (diameter: Length): Fact => ({
  ...{ kind: 'bore-taken', diameter, how: 'rocked', standard: mm(0.008), spread: mm(0.02) },
  ...{ degreesOfFreedom: 5, tops: 7, agreeing: 6 },
});

/** The spigot as far over its target as said. */
function spigotTaken(job: Job, over: number): Fact {
  const diameter = mm(ofKind('aim', aimOf(job)).target + over);
  const { word, clearance } = ofKind('expected', expectedAsPlanned(job, { diameter }));
  return { kind: 'spigot-taken', diameter, how: 'read', fit: word, clearance };
}

/** Measured, cut, tried, noted: everything a job can have. */
export function whole(setup: Setup, bore: Length, over = 0.02): Job {
  const ifThreaded = (...facts: readonly Fact[]) => (setup.fit === 'threaded' ? facts : []);
  const cut = (part: 'female' | 'male'): Fact => {
    const depth = setup.depth[part];
    const detents = setup.feed ? Math.round(depth / setup.feed.perDetent) : null;
    if (!setup.byHand) return { kind: 'thread-cut', part, detents, depth, proven: part === 'male' };
    const chased = { kind: 'thread-chased', part } as const;
    return part === 'female'
      ? { ...chased, strokes: 14, how: 'flat', depth, within: mm(0.09), flat: mm(0.4) }
      : { ...chased, strokes: 9, how: 'trial', depth: null, within: null };
  };
  const before: readonly Fact[] = [
    { kind: 'zero-taken', error: mm(0.02), standard: mm(0.003), applied: true },
    ...ifThreaded(cut('female')),
    boreTaken(bore),
  ];
  const trial = { kind: 'trial-made', clearance: mm(0.13), standard: mm(0.08) } as const;
  return jobWith(setup, [
    ...before,
    spigotTaken(jobWith(setup, before), over),
    ...ifThreaded(cut('male')),
    { ...trial, verdict: 'tight' },
    ...ifThreaded({ kind: 'crests-relieved', part: 'male' }),
    { ...trial, verdict: 'running' },
    ...ifThreaded({ kind: 'grain-seen', angle: degrees(40), trim: mm(0.18), part: setup.bored }),
    { kind: 'note-added', text: 'Second trial after waxing. Lid turned from the same blank.' },
    { kind: 'job-closed', how: 'runs' },
  ]);
}

const words = (text: string, length: number): string =>
  text.repeat(Math.ceil(length / text.length)).slice(0, length);

const fine = { name: 'compound slide', perDetent: mm(0.025), lostDetents: 4, perDetentStandard: mm(0.0002) };

export const usual: Setup = pitched({
  ...{ ...threaded, name: 'pear box for tea', wood: 'pear', plannedBore: mm(48), hardens: true },
});
const smallest: Setup = pitched({
  ...{ ...threaded, name: 'needle case', wood: 'boxwood', wanted: mm(0.12) },
  ...{ pitch: { length: mm(1), given: { kind: 'metric' } }, feed: { ...fine, perDetent: mm(0.1) } },
});
const largest: Setup = pitched({
  ...{ ...threaded, name: 'urn', wood: 'american beech', lidWood: 'sugar maple', bored: 'body' },
  ...{ pitch: { length: tpi(8), given: { kind: 'tpi', threads: 8 } }, starts: 3, feed: fine },
  cutter: {
    ...{ name: 'round nose 55', angle: degrees(55), diameter: mm(18) },
    tip: { kind: 'radius', radius: mm(0.12) },
  },
  ...{ hardens: true, wanted: mm(0.25) },
});
const inch: Setup = pitched({
  ...{ ...threaded, name: 'walnut salt box', wood: 'black walnut', unit: 'in', plannedBore: inches(2) },
  ...{ caliper: { name: 'inch caliper', limitOfError: inches(0.001), step: inches(0.0005) } },
});
export const plain: Setup = {
  ...{ ...threaded, name: 'plain lidded bowl', wood: 'black cherry', fit: 'plain', wanted: mm(0.05) },
};

/** Every text as long as it gets, everything learned, everything noted. */
export function longest(character: string, wood?: string): Job {
  const name = words(character, 80);
  const reasons = Array.from(
    { length: 7 },
    (_, at) => `${name}: computed 0.15 mm, tight; moved the bias -0.0${at}1 mm`,
  );
  const setup = pitched({
    ...{
      ...largest,
      name,
      wood: wood ?? name,
      lidWood: wood ?? `${name.slice(0, 79)}!`,
      plannedBore: mm(60),
    },
    ...{
      cutter: { ...threaded.cutter, name },
      feed: { ...fine, name },
      caliper: { ...threaded.caliper, name },
    },
    learned: { shift: mm(-0.03), spread: mm(0.05), reasons },
  });
  const job = whole(setup, mm(60));
  const notes = Array.from({ length: 5 }, (_, at) => words(`${at + 1} ${character}`, 400));
  const [trial] = job.trials;
  return { ...job, notes, trials: trial ? Array.from({ length: 6 }, () => trial) : [] };
}

/** The same with both parts measured in two orientations and at both ends. */
export function outOfTrue(job: Job): Job {
  const { bore, spigot } = job;
  if (!bore || !spigot) throw new Error('nothing was measured');
  return {
    ...job,
    mouth: { how: 'read', diameter: bore.diameter },
    depth: { how: 'read', diameter: mm(bore.diameter - 0.08) },
    bore: { ...bore, across: mm(bore.diameter - 0.12), acrossStandard: mm(0.008) },
    spigot: { ...spigot, across: mm(spigot.diameter - 0.06), end: mm(spigot.diameter - 0.04) },
  };
}

const unfed = ({ feed: _feed, ...setup }: Setup): Setup => setup;

export interface Case {
  readonly name: string;
  readonly job: Job;
  readonly unit: LengthUnit;
}

export const CASES: readonly Case[] = [
  { name: 'only a name', job: jobWith({ ...threaded, name: 'x' }), unit: 'mm' },
  { name: 'planned', job: jobWith(usual), unit: 'mm' },
  { name: 'bore taken', job: jobWith(usual, [boreTaken(mm(48.03))]), unit: 'mm' },
  { name: 'usual', job: whole(usual, mm(48.03)), unit: 'mm' },
  { name: 'oval and tapered', job: outOfTrue(whole(usual, mm(48.03))), unit: 'mm' },
  { name: 'oval and tapered in inches', job: outOfTrue(whole(usual, mm(48.03))), unit: 'in' },
  { name: 'usual in inches', job: whole(usual, mm(48.03)), unit: 'in' },
  { name: 'smallest', job: whole(smallest, mm(8.02)), unit: 'mm' },
  { name: 'largest', job: whole(largest, mm(300.1)), unit: 'mm' },
  { name: 'largest in inches', job: whole(largest, mm(300.1)), unit: 'in' },
  { name: 'inch', job: whole(inch, inches(2.0015)), unit: 'in' },
  { name: 'plain', job: whole(plain, mm(70.02)), unit: 'mm' },
  { name: 'plain held tight', job: whole({ ...plain, wanted: mm(-0.06), bored: 'body' }, mm(8)), unit: 'mm' },
  { name: 'seized', job: whole(usual, mm(48.03), 0.4), unit: 'mm' },
  { name: 'no feed', job: whole(unfed(usual), mm(48.03)), unit: 'mm' },
  { name: 'chased by hand', job: whole({ ...unfed(usual), byHand: true }, mm(48.03)), unit: 'mm' },
  { name: 'long words', job: longest('long enough '), unit: 'mm' },
  { name: 'wide letters', job: longest('W'), unit: 'in' },
  { name: 'wide letters, known wood', job: longest('W', 'european beech'), unit: 'in' },
  { name: 'wide letters, oval', job: outOfTrue(longest('W', 'european beech')), unit: 'in' },
  { name: 'long words, oval', job: outOfTrue(longest('long enough ', 'pear')), unit: 'mm' },
  { name: 'long words, known wood', job: longest('long enough ', 'sugar maple'), unit: 'mm' },
];
