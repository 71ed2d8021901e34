// A recorded trace watched on the bench screen: the built program in a terminal plays it until the rocks agree, and keeps nothing.
import { readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { openDay } from '../support/day.ts';

const trace = resolve(import.meta.dirname, '../../shared/traces/bore.trace');

/** The trace on the bench screen, and what is left of it in the home. */
function watch(...more: readonly string[]) {
  const day = openDay();
  return { eye: day.watch(trace, ...more), left: () => readdirSync(day.home) };
}

test('a trace is played on the bench until its bore agrees; it can be taken, and nothing of it is kept', async () => {
  const { eye, left } = watch('--speed', '20');
  await eye.untilShown('replay of bore.trace, nothing is saved');
  await eye.untilShown('STEADY', 30_000);
  await eye.untilShown('the trace has ended', 30_000);
  await eye.goes(['\r', 'Bore kept'], ['n', '◆spigot'], ['s', 'A replay saves nothing']);
  eye.press('q');
  expect(await eye.ended()).toEqual({ code: 0, signal: 0 });
  expect(left()).toEqual([]);
});

test('a watched trace that is ended by a signal leaves no folder behind', async () => {
  const { eye, left } = watch();
  await eye.untilShown('replay of bore.trace');
  eye.signal('SIGTERM');
  expect((await eye.ended()).code).toBe(143);
  expect(left()).toEqual([]);
});

test.each([
  [['--speed', '4'], '--speed only goes with --watch'],
  [['--watch', '--speed', 'fast'], '--speed: "fast" isn\'t accepted'],
  [['--watch', '--json'], '--watch draws on the screen'],
  [['--watch'], "stdout isn't one"],
])('%j is refused', async (options, why) => {
  const { code, err } = await openDay().run('replay', trace, ...options);
  expect(code).toBe(2);
  expect(err).toContain(why);
});
