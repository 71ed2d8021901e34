// Jobs made up for tests and benchmarks: each as a turner would leave it, seeded, so that the same number gives the same job.
import type { Entry, Fact, KeptReading } from '../../../src/core/bench/entry.ts';
import type { Setup } from '../../../src/core/bench/setup.ts';
import { type Length, millis, mm } from '../../../src/core/units.ts';
import { threaded } from '../../support/bench.ts';
import { fastChanceFrom } from '../../support/chance.ts';

const WOODS = ['boxwood', 'hard maple', 'african blackwood', 'olive'];

export const setupNamed = (name: string, wood = 'boxwood'): Setup => ({
  ...{ ...threaded, name, wood, hardens: true },
  cutter: { ...threaded.cutter, diameter: mm(20), topSpeed: 4000 },
});

const BEGUN = 1_700_000_000_000;
const atOf = (seed: number, place: number): number => BEGUN + seed * 60_000 + place * 1000;

/** An id that looks like those of the program, from a number: the time of its entry, and chance. */
export const idFrom = (seed: number, place: number): string => {
  const chance = fastChanceFrom(seed * 1000 + place);
  const hex = (digits: number): string =>
    Array.from({ length: digits }, () => chance.below(16).toString(16)).join('');
  const time = atOf(seed, place).toString(16).padStart(12, '0');
  return `${time.slice(0, 8)}-${time.slice(8)}-7${hex(3)}-a${hex(3)}-${hex(12)}`;
};

function reading(value: number, at: number, place: number): KeptReading {
  const text = value.toFixed(2);
  const raw = `DI,${place},${at},${text},mm*A5A5`;
  return { text, unit: 'mm', step: mm(0.01), value: mm(Number(text)), at: millis(at), raw };
}

const heard = (count: number, around: number, next: () => number): readonly KeptReading[] =>
  Array.from({ length: count }, (_, place) => reading(around - next() * 0.4, 1000 + place * 125, place));

/** A whole job of `readings` readings from its number: begun, bored, measured, turned, tried, closed (every tenth is left open). */
export function sampleJob(seed: number, readings = 50): readonly Entry[] {
  const next = fastChanceFrom(seed).uniform;
  const job = idFrom(seed, 0);
  const bore = mm(Number((30 + next() * 40).toFixed(3)));
  const target: Length = mm(bore + 1.1);
  const limits = { low: mm(target - 0.15), high: mm(target + 0.07), limit: mm(1.25) };
  const inBore = Math.round(readings * 0.6);
  const wood = WOODS[Math.floor(next() * WOODS.length)];
  const facts: readonly (readonly [Fact, number])[] = [
    [{ kind: 'job-begun', setup: setupNamed(`Box ${seed}`, wood) }, 0],
    [{ kind: 'stage-entered', stage: 'bore size' }, 0],
    [
      {
        ...{ kind: 'bore-taken', diameter: bore, standard: mm(0.008), degreesOfFreedom: 5 },
        ...{ tops: 4, agreeing: 3, spread: mm(0.01), how: 'rocked' },
      },
      inBore,
    ],
    [{ kind: 'target-set', bore, target, ...limits }, 0],
    [{ kind: 'stage-entered', stage: 'spigot' }, 0],
    [
      { kind: 'spigot-taken', diameter: target, how: 'read', fit: 'running', clearance: mm(0.15) },
      readings - inBore,
    ],
    [{ kind: 'thread-cut', part: 'male', detents: 5, depth: mm(1), proven: true }, 0],
    [{ kind: 'trial-made', verdict: 'running', clearance: mm(0.15), standard: mm(0.05) }, 0],
    [{ kind: 'note-added', text: 'Waxed; runs freely.' }, 0],
    [seed % 10 === 0 ? { kind: 'stage-entered', stage: 'record' } : { kind: 'job-closed', how: 'runs' }, 0],
  ];
  return facts.map(([fact, count], place) => ({
    id: idFrom(seed, place + 1),
    job,
    at: atOf(seed, place),
    fact,
    readings: heard(count, fact.kind === 'spigot-taken' ? target : bore, next),
  }));
}
