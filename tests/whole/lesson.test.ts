// A lesson at the virtual bench, as a demonstrator gives it: slowed, stopped, made to go wrong, and told the truth at the end.
import { afterEach, expect, test } from 'vitest';
import { virtualKit } from '../../src/commands/bench/virtual.ts';
import { defaultBounds, fitOf, fitWord } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { VirtualBench } from '../../src/link/virtual/bench.ts';
import { bigNumber } from '../support/big-digits.ts';
import { Day } from '../support/day.ts';
import type { Eye } from '../support/terminal.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

async function beginJob(eye: Eye): Promise<void> {
  await eye.untilShown('virtual-1');
  await eye.beginJob();
}

/** Time faster and faster, one press after another. */
const hurry = (eye: Eye, ...speeds: readonly number[]): Promise<void> =>
  eye.goes(...speeds.map((speed) => ['>', `(speed ${speed})`] as const));

/** Stops time and keeps what is shown; goes on and tries again where the jaws were moving. */
async function keepStill(eye: Eye, until: RegExp, kept: string): Promise<void> {
  for (let tries = 0; !eye.text().includes(kept); tries++) {
    if (tries > 20) throw new Error(`never ${kept}`);
    await eye.goes(['', until], ['p', 'paused'], ['\r']);
    await eye.until('an answer', (screen) => screen.some((row) => row.includes(kept) || row.includes(' × ')));
    eye.press('p');
    await eye.until('time going on', (screen) => !screen.some((row) => row.includes('paused')));
  }
}

/** The lengths that a row of the record says, in order. */
function lengthsIn(eye: Eye, row: string): readonly number[] {
  const said = eye.screen().find((one) => one.trimStart().startsWith(row)) ?? '';
  return [...said.matchAll(/(-?\d+\.\d+) mm/g)].map(([, figure]) => Number(figure));
}

test('a bore read small and a spigot that swelled end in a tight trial, and the end of the job says so', async () => {
  const eye = day.demo('--seed', '7', '--mishap', 'small-bore', 'tight-trial');
  await beginJob(eye);
  await eye.goes(['<', '(speed 1/2)'], ['>']);
  await eye.until('full speed', (screen) => !screen.some((row) => row.includes('(speed')));
  await hurry(eye, 2, 4, 8);
  await keepStill(eye, /STEADY/, 'Bore kept');
  await eye.goes(['n', '◆spigot']);
  await keepStill(eye, /AT SIZE/, 'Spigot kept');
  await eye.goes(
    ['n', 'NOT TOUCHED OFF'],
    ['\r', 'FULL DEPTH'],
    ['\r', 'Thread kept'],
    ['n', 'chosen, not kept yet'],
  );
  await eye.until('tight chosen', () => eye.styleOf('goes on but binds')?.includes('bold') ?? false);
  await eye.goes(['\r', 'was tight: goes on but binds'], ['n', '◆record']);
  expect(eye.text()).not.toContain('truly');
  await eye.goes(['\r', 'truly']);

  const [keptBore = 0, realBore = 0] = lengthsIn(eye, 'bore  ');
  const [keptSpigot = 0, realSpigot = 0] = lengthsIn(eye, 'spigot  ');
  const [keptGroove = 0, realGroove = 0] = lengthsIn(eye, 'spigot groove');
  // The wood that this seed puts on the lathe when the first job begins.
  const wood = new VirtualBench({ seed: 7 });
  wood.newBlank();
  expect(realBore).toBeCloseTo(wood.truth().bore, 1);
  expect(Math.abs(realBore - keptBore - 0.2)).toBeLessThanOrEqual(0.03);
  expect(realSpigot - keptSpigot).toBeGreaterThan(0.2);
  expect(keptGroove).toBe(1);
  const [cutter] = virtualKit('mm').cutters;
  if (!cutter) throw new Error('no cutter');
  const groove = (depth: number) => ({ depth: mm(depth), tip: cutter.tip });
  const pair = { pitch: mm(1.5), starts: 1, angle: cutter.angle };
  const fit = fitOf({ ...pair, female: groove(1), male: groove(realGroove) }, mm(realBore), mm(realSpigot));
  const [computed = 0, real = 0] = lengthsIn(eye, 'clearance');
  expect(fit.kind === 'fit' && Math.abs(fit.clearance - real)).toBeLessThanOrEqual(0.05);
  expect(fitWord(mm(real), defaultBounds)).toBe('tight');
  expect(fitWord(mm(computed), defaultBounds)).toBe('running');
  expect(eye.text()).toMatch(/computed .*\(running\), truly .*\(tight\)/);
  expect(eye.text()).toContain('a chip under a jaw, a swollen spigot');
  expect(await eye.left()).toBe(0);
});

test('a count lost in the middle of a thread voids its depth, and damaged lines are counted while nothing is lost', async () => {
  const eye = day.demo('--seed', '3');
  await beginJob(eye);
  await eye.goes(['b', '◆bore thread']);
  await hurry(eye, 2, 4, 8);
  await eye.goes(
    ['\r', /done [1-5] of 5 detents/],
    ['x', 'DEPTH VOID'],
    ['\r', 'FULL DEPTH'],
    ['\rn', '◆bore size'],
    ['d', /(1[2-9]|[2-9]\d|\d{3}) damaged/],
    ['', '● STEADY'],
  );
  expect(await eye.left()).toBe(0);
  const { out } = await day.run('jobs', 'show', '1', '--json');
  expect(out).toMatch(/"depth-voided",\s*"part": ?"female",\s*"why": ?"overrun"/);
});

const chord = (diameter: number, off: number): number => Math.sqrt(diameter ** 2 - 4 * off ** 2);

/** Sends the jaws to one end after the other until the screen says STEADY. */
async function rockByKeys(eye: Eye, ring: number): Promise<void> {
  const jaws = (screen: readonly string[]): number => Number(bigNumber(screen, 'jaws now') ?? 99);
  const isSteady = (screen: readonly string[]): boolean => screen.some((row) => row.includes('● STEADY'));
  for (let swing = 0; !isSteady(eye.screen()); swing++) {
    if (swing > 30) throw new Error('never steady');
    for (let press = 0; press < 12; press++) eye.press(swing % 2 === 0 ? 'right' : 'left');
    const crossed = (screen: readonly string[]): boolean => jaws(screen) > chord(ring, 1);
    await eye.until('the widest place passed', (screen) => isSteady(screen) || crossed(screen));
    const there = (screen: readonly string[]): boolean => jaws(screen) < chord(ring, 2.3);
    await eye.until('the other side', (screen) => isSteady(screen) || there(screen));
  }
}

test('practice on virtual jaws tells the true size of each ring, and after three a score', async () => {
  const eye = day.demo('--seed', '5', '--practice');
  await eye.untilShown('◆ practice');
  const rings = new VirtualBench({ seed: 5 });
  await hurry(eye, 2, 4);
  for (const ring of [1, 2, 3]) {
    rings.newBlank();
    const { bore } = rings.truth();
    await rockByKeys(eye, bore);
    expect(eye.text()).not.toContain('truly');
    await eye.goes(['\r', `ring ${ring} `]);
    const [measured = 0, real = 0] = [
      ...eye.text().matchAll(/measured (\S+), truly (\S+) mm, miss/g),
    ].flatMap(([, ...figures]) => figures.map(Number));
    expect(real).toBe(Number(bore.toFixed(2)));
    expect(Math.abs(measured - real)).toBeLessThanOrEqual(0.03);
    expect(eye.text()).toMatch(
      ring < 3 ? /score +comes after three/ : /score +mean miss 0\.0\d mm, worst 0\.0\d mm: good/,
    );
    eye.press('enter');
    await eye.until('the next ring', (screen) => !screen.some((row) => row.includes('truly')));
  }
  expect(await eye.left()).toBe(0);
  expect((await day.run('jobs')).out).not.toContain('ring');
});

test('practice with a board and a ring asks for its size, and scores the rocking', async () => {
  const board = await day.board();
  const eye = day.open(board, { args: ['--practice'] });
  await board.pair.waitForReceived('?');
  await board.hello();
  await eye.goes(
    ['', 'WHICH RING?'],
    ['4000\r', 'Enter the size marked on the ring, from 5 to 150 mm.'],
    ['40.00\r', 'READY'],
    [() => board.rock(39.9, 5), '● STEADY'],
    ['\r', 'TOO SMALL'],
  );
  expect(eye.text()).toMatch(/measured 39\.\d\d, truly 40\.00 mm/);
  expect(eye.text()).toMatch(/strokes \d +peaks within 0\.0\d mm/);
  expect(await eye.left()).toBe(0);
});
