// Deeds at the bench, and what is seen after them: what the tests of its rules compare.
import { expect } from 'vitest';
import type { Fact } from '../../src/core/bench/entry.ts';
import type { KeepQuestion, Refusal } from '../../src/core/bench/state.ts';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { played, type Table } from './bench.ts';

const seenOn = (table: Table) => {
  const { bench, refusal, asked, lastFact, values, kinds, sounds } = table;
  const { notice, typed, place, job, mode, ring } = bench;
  const scene = () => sceneOf(bench);
  return {
    refused: refusal,
    kept: lastFact,
    asked,
    values,
    kinds,
    sounds,
    notice,
    typed,
    place,
    mode,
    ring,
    stage: job?.stage,
    bore: job?.bore?.diameter,
    spigot: job?.spigot?.diameter,
    get word() {
      return scene().standing?.word;
    },
    get about() {
      return scene().standing?.about;
    },
    get next() {
      return scene().next;
    },
    get shows() {
      return scene().big?.text;
    },
  };
};

/** Some of what is seen. */
export type Seen = { readonly [key in keyof ReturnType<typeof seenOn>]?: unknown };
/** A script, and what is seen after it. */
export type Step = readonly [script: string, seen: Seen];

/** Scripts one after another on one bench. */
export function story(table: Table, ...steps: readonly Step[]): void {
  for (const [script, seen] of steps) expect(seenOn(table.play(script)), script).toMatchObject(seen);
}

/** One script on a new bench. */
export const tells = (...step: Step): void => story(played(''), step);

export const near = (value: number): number => expect.closeTo(value, 6);

/** Refused for this. */
export const no = (kind: Refusal['kind'], more: object = {}): Seen => ({ refused: { kind, ...more } });
/** Kept last: this. */
export const keeps = (kind: Fact['kind'], more: object = {}): Seen => ({ kept: { kind, ...more } });
/** Asked for this. */
export const asks = (kind: KeepQuestion['kind'], more: object = {}): Seen => ({ asked: { kind, ...more } });
