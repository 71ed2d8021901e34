// Stories, each from the first stage to a record that holds every reading.
import { afterEach, expect, test } from 'vitest';
import type { TestBoard } from '../support/board.ts';
import { Day } from '../support/day.ts';
import type { Eye } from '../support/terminal.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

interface ShownEntry {
  readonly kind: string;
  readonly readings?: readonly unknown[];
}

async function record(): Promise<{ text: string; kinds: readonly string[]; entries: readonly ShownEntry[] }> {
  const { out, code } = await day.run('jobs', 'show', '1', '--json');
  expect(code).toBe(0);
  const shown = JSON.parse(out) as {
    entries: readonly { fact: ShownEntry; readings?: readonly unknown[] }[];
  };
  const entries = shown.entries.map(({ fact, readings }) => ({ ...fact, readings: readings ?? [] }));
  return { text: out, kinds: entries.map(({ kind }) => kind), entries };
}

/** The form filled in field by field, as a person types it. */
async function fill(eye: Eye, fields: Readonly<Record<string, string>>): Promise<void> {
  eye.press('w');
  await eye.untilShown('◆ new job');
  for (const [field, value] of Object.entries(fields)) {
    for (let tries = 0; !eye.screen().some((row) => row.includes(`▸ ${field} `)); tries++) {
      if (tries > 14) throw new Error(`no field ${field}`);
      const before = eye.text();
      eye.press('enter');
      await eye.until('the next field', (screen) => screen.join('\n') !== before);
    }
    eye.type(value);
    await eye.untilShown(new RegExp(`▸ ${field} +(?:‹ )?${value.replace(/[.*+?^$()|[\]\\]/g, '\\$&')}`));
  }
  eye.type('\x1b[F');
  await eye.untilShown('◆bore size');
}

async function plugged(board: TestBoard, eye: Eye): Promise<void> {
  await board.pair.waitForReceived('?');
  await board.hello();
  await eye.untilShown(board.id);
}

const stageOn = (screen: readonly string[]): string | undefined =>
  /◆([a-z ]+?)(?: [○●]|$)/.exec(screen[1]?.trimEnd() ?? '')?.[1];

async function back(eye: Eye, stage: string): Promise<void> {
  for (let at = stageOn(eye.screen()); at !== stage; at = stageOn(eye.screen())) {
    eye.press('b');
    await eye.until(
      `a stage before ${at}`,
      (screen) => stageOn(screen) !== undefined && stageOn(screen) !== at,
    );
  }
}

/** The row of a choice stands out: it is the one that Enter keeps. */
const chosen = (eye: Eye, word: string): Promise<unknown> =>
  eye.until(`${word} chosen`, () => eye.styleOf(word)?.includes('bold') ?? false);

async function thread(eye: Eye, board: TestBoard, stage: string, detents: number): Promise<void> {
  await eye.untilShown(`◆${stage}`);
  await eye.untilShown('NOT TOUCHED OFF');
  await board.press(1);
  await eye.until('touched off', (screen) => !screen.some((row) => row.includes('NOT TOUCHED OFF')));
  await board.feed(detents);
  await eye.untilShown('FULL DEPTH');
  await board.press(1);
  await eye.untilShown('Thread kept');
}

test('a threaded box in metric with a board, from closed jaws to a recorded pair, with one rework, on four buttons', async () => {
  const board = await day.withFeed().board();
  const eye = day.open(board);
  await plugged(board, eye);
  await fill(eye, { name: 'winter box', wood: 'sycamore am', depth: '1mm' });
  await back(eye, 'zero');
  await board.holds(0.01, 6);
  await board.press(1);
  await eye.untilShown('Zero kept');
  await board.press(3);
  await eye.untilShown('◆hollow');
  await board.holds(42.1, 6);
  await board.press(1);
  await board.press(3);
  await thread(eye, board, 'bore thread', 5);
  await board.press(3);
  await eye.untilShown('◆bore size');
  await board.rock(42.31, 5);
  await eye.untilShown('STEADY');
  await board.press(1);
  await eye.untilShown('Bore kept');
  await board.press(3);
  await eye.untilShown('◆spigot');
  for (const value of [45, 44, 43.6, 43.55]) await board.holds(value);
  await board.press(1);
  await eye.untilShown('Spigot kept');
  await board.press(3);
  await thread(eye, board, 'spigot thread', 5);
  await board.press(3);
  await eye.untilShown('◆trial');
  for (const word of ['runs freely', 'turns freely', "won't go", 'goes on but']) {
    await board.press(2);
    await chosen(eye, word);
  }
  await board.press(1);
  await eye.untilShown('Trial kept');
  await board.press(4);
  await eye.untilShown('◆spigot thread');
  await board.feed(1);
  await eye.untilShown(/6 of \d+ detents|1\.20 mm/);
  await board.press(1);
  await board.press(3);
  await eye.untilShown('◆trial');
  await board.press(2);
  await chosen(eye, 'runs freely');
  await board.press(1);
  await board.press(3);
  await eye.untilShown('◆record');
  await board.press(1);
  await eye.untilShown('CLOSED');
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);

  const { kinds, text, entries } = await record();
  for (const kind of [
    'zero-taken',
    'hollow-measured',
    'touched-off',
    'bore-taken',
    'target-set',
    'spigot-taken',
    'job-closed',
  ])
    expect(kinds).toContain(kind);
  expect(kinds.filter((kind) => kind === 'thread-cut')).toHaveLength(3);
  expect(kinds.filter((kind) => kind === 'trial-made')).toHaveLength(2);
  expect(kinds.filter((kind) => kind === 'feed-counted')).toHaveLength(11);
  expect(entries.find(({ kind }) => kind === 'bore-taken')?.readings?.length).toBeGreaterThanOrEqual(5 * 17);
  expect(text).toMatch(/"how": ?"runs"/);
});

test('the same in inches and threads per inch, typed only', async () => {
  const eye = day.withFeed().open(undefined, { args: ['--unit', 'in'] });
  await eye.untilShown('begin a job');
  await fill(eye, { name: 'inch box', pitch: '16tpi', depth: '0.04in' });
  await back(eye, 'zero');
  for (const reading of ['0.0005', '0.0005', '0.0005']) eye.type(`${reading}\r`);
  eye.press('enter');
  await eye.untilShown('Zero kept');
  eye.press('n');
  await eye.untilShown('◆hollow');
  eye.type('1.6600\r');
  eye.press('enter', 'n');
  await eye.untilShown('◆bore thread');
  eye.press('enter');
  await eye.until('touched off', (screen) => !screen.some((row) => row.includes('NOT TOUCHED OFF')));
  eye.press('+', '+', '+', '+', '+');
  await eye.untilShown('FULL DEPTH');
  eye.press('enter', 'n');
  await eye.untilShown('◆bore size');
  for (const reading of ['1.6655', '1.6660', '1.6655']) eye.type(`${reading}\r`);
  await eye.untilShown('3 READINGS');
  eye.press('enter');
  await eye.untilShown('Bore kept');
  eye.press('n');
  await eye.untilShown('◆spigot');
  eye.type('1.7090\r');
  await eye.until('a standing', (screen) => screen.some((row) => /AT SIZE|NEAR|UNDER|PAST/.test(row)));
  eye.press('enter');
  await eye.untilShown('Spigot kept');
  eye.press('n');
  await eye.untilShown('◆spigot thread');
  eye.type('0.04in\r');
  await eye.untilShown('Thread kept');
  eye.press('n');
  await eye.untilShown('◆trial');
  eye.type('2');
  await eye.untilShown('TRIAL 1  was tight');
  eye.type('3');
  await eye.untilShown('It runs. Press n');
  eye.press('n');
  await eye.untilShown('◆record');
  eye.type('40\r');
  await eye.untilShown(/40.*degrees/);
  eye.press('enter');
  await eye.untilShown('CLOSED');
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
  const { kinds, text } = await record();
  for (const kind of [
    'zero-taken',
    'thread-cut',
    'bore-taken',
    'spigot-taken',
    'trial-made',
    'grain-seen',
    'job-closed',
  ])
    expect(kinds).toContain(kind);
  expect(text).toContain('1.6655');
});

test('a board that counts a feed while the kit has none: set up on the spot, used at once and offered to the next job', async () => {
  const board = await day.board();
  const eye = day.open(board);
  await plugged(board, eye);
  await fill(eye, { name: 'first box', depth: '1mm' });
  await back(eye, 'bore thread');
  await board.feed(3);
  await eye.untilShown('Press k to set up the feed with two questions');
  eye.press('k');
  await eye.untilShown('How will you find what one detent feeds?');
  eye.type('3\r');
  await eye.untilShown('How far does one detent move the cutter into the wood?');
  eye.type('0,2\r');
  await eye.untilShown('AS GIVEN');
  eye.type('leadscrew\r');
  await eye.untilShown('◆bore thread');
  await eye.untilShown('NOT TOUCHED OFF');
  eye.press('enter');
  await eye.until('touched off', (screen) => !screen.some((row) => row.includes('NOT TOUCHED OFF')));
  await board.feed(2);
  await eye.untilShown('2 of 5 detents');
  eye.press('w');
  await eye.untilShown(/feed +leadscrew/);
  eye.press('escape');
  await eye.untilShown('◆bore thread');
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
  expect((await day.run('kit')).out).toMatch(/leadscrew/);
});

test('every slip of a typing hand in inches is seen, asked about or refused, and none is kept', async () => {
  const eye = day.open(undefined, { args: ['--unit', 'inch'] });
  const ends = async (typed: string, shown: string | RegExp) => {
    eye.type(`${typed}\r`);
    await eye.untilShown(shown);
  };
  await eye.untilShown('begin a job');
  await fill(eye, { name: 'slips', pitch: '16tpi', depth: '0.04in' });
  await ends('1,6655', 'reading 1  1.6655 in');
  await ends('1e3mm', /"1e3mm" isn't accepted/);
  await ends('1.6x', /"1\.6x" isn't accepted/);
  await ends('16.655', 'Is it really 16.6550 in?');
  eye.press('escape');
  await eye.until('the slip cleared', (screen) => !screen.some((row) => row.includes('typed: 16')));
  await ends('1 1/2', 'reading 2  1.5000 in');
  eye.press('enter');
  await eye.untilShown(/Not kept: the readings are 0\.1655 in apart/);
  eye.press('u');
  await eye.until('taken back', (screen) => !screen.some((row) => row.includes('reading 2')));
  await ends('1.6661', 'reading 2  1.6661 in');
  await ends('1-43/64', 'reading 3  1.6719 in');
  eye.press('up');
  await eye.untilShown('typed: 1-43/64');
  eye.press('backspace', 'backspace', 'backspace', 'backspace', 'backspace', 'backspace');
  await ends('.6658', 'reading 3  1.6658 in');
  eye.press('enter');
  await eye.untilShown('Bore kept');
  eye.press('n');
  await eye.untilShown('◆spigot');
  // The bore's size once more, which can't be a spigot that fits.
  await ends('1.6658', 'PAST');
  eye.press('enter');
  await eye.untilShown(/under the target: .*Keep it anyway\?/);
  await ends('1,8', 'TURN DOWN');
  await ends('1.690', /loose/);
  eye.press('enter');
  await eye.untilShown('0.0216 in under the target: turns freely but is loose. Keep it anyway?');
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
  const { entries } = await record();
  expect(entries.filter(({ kind }) => kind === 'bore-taken')).toMatchObject([
    { diameterMm: expect.closeTo(((1.6655 + 1.6661 + 1.6658) / 3) * 25.4, 6) },
  ]);
  expect(entries.map(({ kind }) => kind)).not.toContain('spigot-taken');
});

test('both threads chased by hand, without board and feed: by strokes, by the flat, over the crests and by trial', async () => {
  const eye = day.open();
  await eye.untilShown('begin a job');
  await fill(eye, { name: 'chased box', pitch: '16tpi', feed: 'hand' });
  await back(eye, 'bore thread');
  await eye.untilShown('NOT CHASED YET');
  eye.press('+', '+', '+', '+', '+', '+', '-', '+');
  await eye.untilShown(/CHASING +depth not measured/);
  await eye.untilShown('strokes 6');
  eye.type('0,8');
  await eye.untilShown('typed: 0,8');
  eye.press('enter');
  await eye.untilShown(/0\.68 ± 0\.09 mm deep, not full yet/);
  eye.press('+', '+');
  await eye.untilShown('strokes 8');
  eye.press('enter');
  await eye.untilShown(/depth 0\.\d+ ± 0\.\d+ mm/);
  eye.press('n');
  await eye.untilShown('◆bore size');
  for (const reading of ['42.31', '42.30', '42.31']) eye.type(`${reading}\r`);
  await eye.untilShown('3 READINGS');
  eye.press('enter');
  await eye.untilShown('Bore kept');
  eye.press('n');
  await eye.untilShown('◆spigot');
  const target = /target ([\d.]+) mm/.exec(eye.text())?.[1] ?? '';
  eye.type(`${target}\r`);
  await eye.untilShown('AT SIZE');
  expect(eye.text()).not.toMatch(/runs from|will run/);
  eye.press('enter');
  await eye.untilShown('Spigot kept');
  eye.press('n');
  await eye.untilShown('◆spigot thread');
  eye.press('+', '+', '+', '+', '+', '+', '+', '+', '+');
  await eye.untilShown('strokes 9');
  eye.type(`${target}\r`);
  await eye.untilShown('its crests are still whole');
  const cut = (Number(target) - 0.2).toFixed(2);
  eye.type(`${cut}\r`);
  await eye.untilShown(`over the crests ${cut} mm`);
  eye.press('u');
  await eye.untilShown(`spigot ${target} mm`);
  eye.type(`${cut}\r`);
  await eye.untilShown('Look at the flat left on the crest');
  eye.press('enter');
  await eye.untilShown('by trial: depth not measured');
  eye.press('n');
  await eye.untilShown('◆trial');
  await eye.untilShown("fit unknown: one depth isn't measured");
  eye.type('2');
  await eye.untilShown('TRIAL 1  was tight');
  await eye.untilShown('a stroke or two deeper');
  eye.press('b');
  await eye.untilShown('◆spigot thread');
  eye.press('+', '+', '+');
  await eye.untilShown('strokes 12');
  eye.press('enter', 'n');
  await eye.untilShown('The thread is deeper now');
  eye.type('3');
  await eye.untilShown('It runs. Press n');
  eye.press('n');
  await eye.untilShown('◆record');
  eye.press('enter');
  await eye.untilShown('CLOSED');
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);

  const { kinds, text } = await record();
  expect(kinds.filter((kind) => kind === 'stroke')).toHaveLength(7 + 2 + 9 + 3);
  for (const kind of ['thread-chased', 'crests-measured', 'trial-made', 'job-closed'])
    expect(kinds).toContain(kind);
  for (const kind of ['touched-off', 'feed-counted', 'thread-cut']) expect(kinds).not.toContain(kind);
  expect(text).toMatch(/"how": ?"strokes"/);
  const { out } = await day.run('jobs', 'show', '1');
  expect(out).toMatch(/bore thread cut +0\.\d+ ± 0\.\d+ mm deep, by strokes, 8 strokes/);
  expect(out).toMatch(/spigot thread cut +by trial, depth not measured, 12 strokes/);
  expect(out).toMatch(/spigot +[\d.]+ ± [\d.]+ mm; over its crests; turned to/);
  expect(out).not.toMatch(/detent|touch-off|chances/);
});

test('an oval bore that tapers and a spigot wider at its end, typed: each size, the fit in the worst turn, sheet and record', async () => {
  const eye = day.open();
  await eye.untilShown('begin a job');
  await fill(eye, { name: 'green box', pitch: '16tpi', depth: '1mm' });
  await back(eye, 'hollow');
  for (const reading of ['42.30', '42.20']) {
    eye.type(`${reading}\r`);
    await eye.untilShown(reading);
    eye.press('enter');
    await eye.untilShown(/kept/i);
  }
  await eye.untilShown(/TAPERED/);
  eye.press('n');
  await eye.untilShown('◆bore thread');
  eye.press('n');
  await eye.untilShown('◆bore size');
  for (const reading of ['42.30', '42.30', '42.30']) eye.type(`${reading}\r`);
  await eye.untilShown('3 READINGS');
  eye.press('enter');
  await eye.untilShown('Bore kept');
  eye.press('a');
  await eye.untilShown('a quarter turn round');
  eye.type('42.18\r');
  await eye.untilShown('reading 1  42.18 mm');
  eye.press('enter');
  // Half the difference over a quarter of pi: the widths average (42.30 + 42.18) / 2 less (pi / 4) 0.12 mm.
  await eye.untilShown('0.12 mm: fits like 42.15 mm');
  eye.press('n');
  await eye.untilShown('◆spigot');
  // Four depths less twice the height of a sharp 60 degree thread, 1.250 mm, over that bore, 0.10 mm less where
  // the bore is narrowest, and 0.15 mm of clearance wanted: 42.146 - 0.10 + 1.250 - 0.15.
  await eye.untilShown('target 43.15 mm');
  eye.type('43.15\r');
  await eye.untilShown('AT SIZE');
  eye.press('enter');
  await eye.untilShown('Spigot kept');
  // In its widest turn that leaves 42.146 - 0.10 + 1.250 - 43.15 = 0.146 mm; square to it twice (pi / 4) 0.12 mm more,
  // and 0.10 mm more at the mouth.
  await eye.untilShown('at its loosest 0.29 mm more');
  eye.press('a');
  await eye.untilShown('spigot, at its end');
  eye.type('43.20\r');
  await eye.untilShown('kept at its shoulder 43.15 mm');
  eye.press('enter');
  await eye.untilShown('taper 0.05 mm wider at the end');
  await eye.untilShown('fit tightens by 0.15 mm going in');
  await eye.untilShown('at its loosest 0.34 mm more');
  eye.press('n');
  await eye.untilShown('◆spigot thread');
  eye.press('n');
  await eye.untilShown('computed fit running');
  eye.type('2');
  await eye.untilShown('TRIAL 1  was tight');
  eye.press('q');
  expect((await eye.ended()).code).toBe(0);
  const { kinds } = await record();
  expect(kinds).toContain('trial-made');
  const { out } = await day.run('jobs', 'show', '1');
  expect(out).toMatch(/shape of the bore +oval 0\.12 mm .*0\.10 mm wider at the mouth/);
  expect(out).toMatch(/shape of the spigot +0\.05 mm wider at the end/);
  expect(out).toMatch(/loosest clearance +0\.34 mm more than at its tightest/);
  const sheet = await day.run('sheet', '1');
  expect(sheet.out).toMatch(/oval 0\.12 mm/);
});

test('a session broken by unplug, a board restart mid-thread, a kill and a resume loses nothing and counts nothing on', async () => {
  const board = await day.withFeed().board();
  const first = day.open(board);
  await plugged(board, first);
  await fill(first, { name: 'broken box', depth: '1mm' });
  await board.rock(42.3, 2);
  await board.pair.unplug();
  await first.untilShown(/unplugged|gone|lost/i);
  await board.pair.replug();
  await board.pair.waitForReceived('?', 2);
  await board.restart();
  await first.untilShown('test-01');
  await board.rock(42.3, 5);
  await first.untilShown('STEADY');
  first.press('enter');
  await first.untilShown('Bore kept');
  await back(first, 'bore thread');
  await first.untilShown('NOT TOUCHED OFF');
  first.press('enter');
  await first.until('touched off', (screen) => !screen.some((row) => row.includes('NOT TOUCHED OFF')));
  await board.feed(2);
  await first.untilShown(/2 of 5 detents/);
  await board.restart();
  await first.untilShown(/VOID|touch off again/i);
  await board.feed(3);
  await first.untilShown(/VOID|touch off again/i);
  first.signal('SIGKILL');
  await first.ended();

  // Two turns of the far end's loop: whatever the first program still sent is counted then.
  await board.pair.write('');
  await board.pair.write('');
  const asked = board.pair.received().split('?').length - 1;
  const second = day.open(board);
  await board.pair.waitForReceived('?', asked + 1);
  await board.hello();
  await second.untilShown('test-01');
  await second.untilShown('◆bore thread');
  await second.untilShown('broken box');
  await second.untilShown(/VOID|touch off again/i);
  second.press('enter');
  await second.until('touched off', (screen) => !screen.some((row) => /VOID|NOT TOUCHED OFF/.test(row)));
  await board.feed(5);
  await second.untilShown('FULL DEPTH');
  second.press('enter');
  await second.untilShown('Thread kept');
  second.press('q');
  expect((await second.ended()).code).toBe(0);
  const { kinds } = await record();
  expect(kinds).toContain('depth-voided');
  expect(kinds.filter((kind) => kind === 'touched-off')).toHaveLength(2);
  expect(kinds).toContain('bore-taken');
});
