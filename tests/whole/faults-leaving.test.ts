// Every way out of the bench: the shell gets its terminal back as it was, and what was said to be kept is there at the next start.
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { resolve } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';
import { FaultyBench } from '../support/faulty-bench.ts';
import { childOf, isRunning } from '../support/processor.ts';
import { Eye } from '../support/terminal.ts';

const PROGRAM = resolve(import.meta.dirname, '../../dist/lidwright.js');
const HOLDER = resolve(import.meta.dirname, '../support/terminal-holder.mjs');
const ending: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const end of ending.splice(0).reverse()) await end();
});

function newDay(): Day {
  const day = new Day();
  ending.push(() => day.close());
  return day;
}

/** The bench as a shell's child, which says how it ended and how it left the terminal. */
function inShell(day: Day, program: readonly string[] = [PROGRAM, 'bench']): Eye {
  const words = [process.execPath, ...program].map((word) => `"${word}"`).join(' ');
  const line = `${words}; echo "code $?"; stty -a; cat`;
  const eye = new Eye({ command: ['sh', '-c', line], env: { LIDWRIGHT_HOME: day.home }, columns: 100 });
  ending.push(() => eye.close());
  return eye;
}

test.each([
  ['q', 0],
  ['\x03', 0],
  ['\x1c', 131],
  ['SIGTERM', 143],
  ['SIGINT', 130],
  ['SIGHUP', 129],
  ['SIGQUIT', 131],
] as const)('%j gives the shell its terminal back', async (way, code) => {
  const eye = inShell(newDay());
  await eye.untilShown('to begin a job');
  expect(eye.emulator.onAlternateScreen).toBe(true);
  const pid = childOf(eye.pid);
  expect(pid).toBeGreaterThan(1);
  if (way.startsWith('SIG')) process.kill(pid, way);
  else eye.type(way);
  await eye.goes(['', `code ${code}`], ['', /(^| )icanon/]);
  expect(eye.text()).toMatch(/(^| )echo /m);
  expect(eye.text()).toMatch(/(^| )isig/m);
  expect(eye.emulator.onAlternateScreen).toBe(false);
  expect(eye.raw().lastIndexOf('\x1b[?25h')).toBeGreaterThan(eye.raw().lastIndexOf('\x1b[?25l'));
  expect(eye.raw().split('\x1b[?1049l')).toHaveLength(2);
});

test('an error in drawing gives the terminal back, says one sentence, and loses nothing kept', async () => {
  const day = newDay();
  const eye = inShell(day, ['--import', 'tsx', resolve(import.meta.dirname, '../support/throwing-bench.ts')]);
  await eye.untilShown('to begin a job', 30_000);
  await eye.goes(['w', '◆ new job'], ['Quince box\x1b[F', '◆ bore size']);
  await eye.keepBore('42.30');
  await eye.goes(['13', 'code 1'], ['', /(^| )icanon/]);
  expect(eye.emulator.onAlternateScreen).toBe(false);
  const said = eye.text().split('code 1')[0]?.replace(/\s+/g, ' ').trim();
  expect(said).toMatch(
    /^lidwright: the screen can't be drawn any more \(.*\), so the bench is closed. Everything kept is saved\.$/,
  );
  const { out } = await day.run('jobs', 'show', '1');
  expect(out).toContain('42.30');
});

test('a terminal that is killed takes the program with it, and the records stay whole', async () => {
  const day = newDay();
  const holder = fork(HOLDER, [process.execPath, PROGRAM, 'bench'], {
    env: { PATH: process.env.PATH, LANG: 'C.UTF-8', LIDWRIGHT_HOME: day.home },
    execArgv: [],
  });
  ending.push(async () => holder.kill('SIGKILL'));
  const [{ pid }] = await once(holder, 'message');
  const [{ drawing }] = await once(holder, 'message');
  expect(drawing).toBe(true);
  holder.kill('SIGKILL');
  await once(holder, 'exit');
  await expect.poll(() => isRunning(pid), { timeout: 15_000 }).toBe(false);
  expect(await day.run('jobs')).toMatchObject({ code: 0, err: expect.stringContaining('No jobs here') });
});

/** Takes a bore, reads on for a while, is killed, and is opened again. */
async function killed(readings: number): Promise<void> {
  const bench = await FaultyBench.begun();
  const { device, eye, day } = bench;
  await bench.takesBore();
  await eye.untilShown('Bore kept.');
  await device.holds(41, readings);
  eye.signal('SIGKILL');
  await eye.ended();
  const { entries } = await bench.kept('job-begun', 'bore-taken');
  expect(entries.at(-1)?.readings.length).toBeGreaterThanOrEqual(85);
  const again = day.open();
  await again.untilShown('◆bore size');
  await again.untilShown(/42\.(29|30) ±/);
}

test('killed outright after the screen said kept: everything is there at the next start', async () => {
  // After a different number of readings, so that each kill falls into another moment of the same work.
  await Promise.all([1, 8, 40].map(killed));
});
