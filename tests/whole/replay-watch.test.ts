// A recorded trace watched on the bench screen: the built program in a terminal plays it until the rocks agree, and keeps nothing.
import { readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';
import { Eye } from '../support/terminal.ts';

const trace = resolve(import.meta.dirname, '../../shared/traces/bore.trace');
let day = new Day();
let eye: Eye | undefined;
afterEach(async () => {
  await eye?.close();
  await day.close();
  day = new Day();
});

const watch = (...more: readonly string[]): Eye => {
  // The folder for passing files is the turner's own here, so that anything left behind shows.
  const env = { LIDWRIGHT_HOME: day.home, TMPDIR: day.home };
  eye = new Eye({ args: ['replay', trace, '--watch', ...more], env });
  return eye;
};

test('a trace is played on the bench until its bore agrees; it can be taken, and nothing of it is kept', async () => {
  const watched = watch('--speed', '20');
  await watched.untilShown('replay of bore.trace, nothing is saved');
  await watched.untilShown('STEADY', 30_000);
  await watched.untilShown('the trace has ended', 30_000);
  watched.press('enter');
  await watched.untilShown('Bore kept');
  watched.press('n');
  await watched.untilShown('◆spigot');
  watched.press('s');
  await watched.untilShown('A replay saves nothing');
  watched.press('q');
  expect(await watched.ended()).toEqual({ code: 0, signal: 0 });
  expect(readdirSync(day.home)).toEqual([]);
});

test('a watched trace that is ended by a signal leaves no folder behind', async () => {
  const watched = watch();
  await watched.untilShown('replay of bore.trace');
  watched.signal('SIGTERM');
  expect((await watched.ended()).code).toBe(143);
  expect(readdirSync(day.home)).toEqual([]);
});

test.each([
  [['--speed', '4'], '--speed only goes with --watch'],
  [['--watch', '--speed', 'fast'], '--speed: "fast" isn\'t accepted'],
  [['--watch', '--json'], '--watch draws on the screen'],
  [['--watch'], "stdout isn't one"],
])('%j is refused', async (options, why) => {
  const { code, err } = await day.run('replay', trace, ...options);
  expect(code).toBe(2);
  expect(err).toContain(why);
});
