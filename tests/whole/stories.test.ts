// Stories, each from the first stage to a record that holds every reading.
import { afterEach, expect, test } from 'vitest';
import type { TestBoard } from '../support/board.ts';
import { Day } from '../support/day.ts';
import type { Eye, Step } from '../support/terminal.ts';

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

/** The form filled in field by field, as a person types it; then on to a stage before bore size, where one is named. */
async function begin(eye: Eye, fields: Readonly<Record<string, string>>, stage?: string): Promise<void> {
  await eye.untilShown(/to begin a job|test-01/);
  await eye.goes(['w', '◆ new job']);
  for (const [field, value] of Object.entries(fields)) {
    for (let tries = 0; !eye.screen().some((row) => row.includes(`▸ ${field} `)); tries++) {
      if (tries > 14) throw new Error(`no field ${field}`);
      const before = eye.text();
      eye.press('enter');
      await eye.until('the next field', (screen) => screen.join('\n') !== before);
    }
    await eye.goes([value, new RegExp(`▸ ${field} +(?:‹ )?${value.replace(/[.*+?^$()|[\]\\]/g, '\\$&')}`)]);
  }
  await eye.goes(['\x1b[F', '◆bore size']);
  if (stage) await back(eye, stage);
}

/** A bench with this board on its line. */
async function plugged(board: TestBoard): Promise<Eye> {
  const eye = day.open(board);
  await board.pair.waitForReceived('?');
  await board.hello();
  await eye.untilShown(board.id);
  return eye;
}

const stageOn = (screen: readonly string[]): string | undefined =>
  /◆([a-z ]+?)(?: [○●]|$)/.exec(screen[1]?.trimEnd() ?? '')?.[1];

async function back(eye: Eye, stage: string): Promise<void> {
  for (let at = stageOn(eye.screen()); at !== stage; at = stageOn(eye.screen())) {
    eye.press('b');
    const isBefore = (now: string | undefined) => now !== undefined && now !== at;
    await eye.until(`a stage before ${at}`, (screen) => isBefore(stageOn(screen)));
  }
}

/** The row of a choice stands out: it is the one that Enter keeps. */
const chosen = (eye: Eye, word: string): Promise<unknown> =>
  eye.until(`${word} chosen`, () => eye.styleOf(word)?.includes('bold') ?? false);

const TOUCHED_OFF = /[○◐] TOUCHED OFF/;
const keepBore: readonly Step[] = [
  ['', '3 READINGS'],
  ['\r', 'Bore kept'],
  ['n', '◆spigot'],
];

test('a threaded box in metric with a board, from closed jaws to a recorded pair, with one rework, on four buttons', async () => {
  const board = await day.withFeed().board();
  const eye = await plugged(board);
  const [keep, again, next, previous] = ([1, 2, 3, 4] as const).map((button) => () => board.press(button));
  if (!keep || !again || !next || !previous) throw new Error('four buttons');
  const thread = (stage: string): readonly Step[] => [
    ['', `◆${stage}`],
    ['', 'NOT TOUCHED OFF'],
    [keep, TOUCHED_OFF],
    [() => board.feed(5), 'FULL DEPTH'],
    [keep, 'Thread kept'],
    [next],
  ];
  await begin(eye, { name: 'winter box', wood: 'sycamore am', depth: '1mm' }, 'zero');
  await eye.goes(
    [() => board.holds(0.01, 6)],
    [keep, 'Zero kept'],
    [next, '◆hollow'],
    [() => board.holds(42.1, 6)],
    [keep],
    [next],
    ...thread('bore thread'),
    ['', '◆bore size'],
    [() => board.rock(42.31, 5), 'STEADY'],
    [keep, 'Bore kept'],
    [next, '◆spigot'],
  );
  for (const value of [45, 44, 43.6, 43.55]) await board.holds(value);
  await eye.goes([keep, 'Spigot kept'], [next], ...thread('spigot thread'), ['', '◆trial']);
  for (const word of ['runs freely', 'turns freely', "won't go", 'goes on but']) {
    await board.press(2);
    await chosen(eye, word);
  }
  await eye.goes(
    [keep, 'Trial kept'],
    [previous, '◆spigot thread'],
    [() => board.feed(1), /6 of \d+ detents|1\.20 mm/],
    [keep],
    [next, '◆trial'],
    [again],
  );
  await chosen(eye, 'runs freely');
  await eye.goes([keep], [next, '◆record'], [keep, 'CLOSED']);
  expect(await eye.left()).toBe(0);

  const { kinds, text, entries } = await record();
  expect(kinds).toEqual(
    expect.arrayContaining(['zero-taken', 'hollow-measured', 'touched-off', 'bore-taken']),
  );
  expect(kinds).toEqual(expect.arrayContaining(['target-set', 'spigot-taken', 'job-closed']));
  const count = (wanted: string) => kinds.filter((kind) => kind === wanted).length;
  expect([count('thread-cut'), count('trial-made'), count('feed-counted')]).toEqual([3, 2, 11]);
  expect(entries.find(({ kind }) => kind === 'bore-taken')?.readings?.length).toBeGreaterThanOrEqual(5 * 17);
  expect(text).toMatch(/"how": ?"runs"/);
});

test('the same in inches and threads per inch, typed only', async () => {
  const eye = day.withFeed().open(undefined, { args: ['--unit', 'in'] });
  await begin(eye, { name: 'inch box', pitch: '16tpi', depth: '0.04in' }, 'zero');
  await eye.goes(
    ['0.0005\r0.0005\r0.0005\r\r', 'Zero kept'],
    ['n', '◆hollow'],
    ['1.6600\r\rn', '◆bore thread'],
    ['\r', TOUCHED_OFF],
    ['+++++', 'FULL DEPTH'],
    ['\rn', '◆bore size'],
    ['1.6655\r1.6660\r1.6655\r'],
    ...keepBore,
    ['1.7090\r', /AT SIZE|NEAR|UNDER|PAST/],
    ['\r', 'Spigot kept'],
    ['n', '◆spigot thread'],
    ['0.04in\r', 'Thread kept'],
    ['n', '◆trial'],
    ['2', 'TRIAL 1  was tight'],
    ['3', 'It runs. Press n'],
    ['n', '◆record'],
    ['40\r', /40.*degrees/],
    ['\r', 'CLOSED'],
  );
  expect(await eye.left()).toBe(0);
  const { kinds, text } = await record();
  expect(kinds).toEqual(expect.arrayContaining(['zero-taken', 'thread-cut', 'bore-taken', 'spigot-taken']));
  expect(kinds).toEqual(expect.arrayContaining(['trial-made', 'grain-seen', 'job-closed']));
  expect(text).toContain('1.6655');
});

test('a board that counts a feed while the kit has none: set up on the spot, used at once and offered to the next job', async () => {
  const board = await day.board();
  const eye = await plugged(board);
  await begin(eye, { name: 'first box', depth: '1mm' }, 'bore thread');
  await eye.goes(
    [() => board.feed(3), 'Press k to set up the feed with two questions'],
    ['k', 'How will you find what one detent feeds?'],
    ['3\r', 'How far does one detent move the cutter into the wood?'],
    ['0,2\r', 'AS GIVEN'],
    ['leadscrew\r', '◆bore thread'],
    ['', 'NOT TOUCHED OFF'],
    ['\r', TOUCHED_OFF],
    [() => board.feed(2), '2 of 5 detents'],
    ['w', /feed +leadscrew/],
    ['\x1b', '◆bore thread'],
  );
  expect(await eye.left()).toBe(0);
  expect((await day.run('kit')).out).toMatch(/leadscrew/);
});

test('every slip of a typing hand in inches is seen, asked about or refused, and none is kept', async () => {
  const eye = day.open(undefined, { args: ['--unit', 'inch'] });
  const gone = (text: string) =>
    eye.until(`no ${text}`, (screen) => !screen.some((row) => row.includes(text)));
  await begin(eye, { name: 'slips', pitch: '16tpi', depth: '0.04in' });
  await eye.goes(
    ['1,6655\r', 'reading 1  1.6655 in'],
    ['1e3mm\r', /"1e3mm" isn't accepted/],
    ['1.6x\r', /"1\.6x" isn't accepted/],
    ['16.655\r', 'Is it really 16.6550 in?'],
    ['\x1b'],
    [() => gone('typed: 16')],
    ['1 1/2\r', 'reading 2  1.5000 in'],
    ['\r', /Not kept: the readings are 0\.1655 in apart/],
    ['u'],
    [() => gone('reading 2')],
    ['1.6661\r', 'reading 2  1.6661 in'],
    ['1-43/64\r', 'reading 3  1.6719 in'],
    ['\x1b[A', 'typed: 1-43/64'],
    [`${'\x7f'.repeat(6)}.6658\r`, 'reading 3  1.6658 in'],
    ['\r', 'Bore kept'],
    ['n', '◆spigot'],
    // The bore's size once more, which can't be a spigot that fits.
    ['1.6658\r', 'PAST'],
    ['\r', /under the target: .*Keep it anyway\?/],
    ['1,8\r', 'TURN DOWN'],
    ['1.690\r', /loose/],
    ['\r', '0.0216 in under the target: turns freely but is loose. Keep it anyway?'],
  );
  expect(await eye.left()).toBe(0);
  const { entries, kinds } = await record();
  expect(entries.filter(({ kind }) => kind === 'bore-taken')).toMatchObject([
    { diameterMm: expect.closeTo(((1.6655 + 1.6661 + 1.6658) / 3) * 25.4, 6) },
  ]);
  expect(kinds).not.toContain('spigot-taken');
});

test('both threads chased by hand, without board and feed: by strokes, by the flat, over the crests and by trial', async () => {
  const eye = day.open();
  await begin(eye, { name: 'chased box', pitch: '16tpi', feed: 'hand' }, 'bore thread');
  await eye.goes(
    ['', 'NOT CHASED YET'],
    ['++++++-+', /CHASING +depth not measured/],
    ['', 'strokes 6'],
    ['0,8', 'typed: 0,8'],
    ['\r', /0\.68 ± 0\.09 mm deep, not full yet/],
    ['++', 'strokes 8'],
    ['\r', /depth 0\.\d+ ± 0\.\d+ mm/],
    ['n', '◆bore size'],
    ['42.31\r42.30\r42.31\r'],
    ...keepBore,
  );
  const target = /target ([\d.]+) mm/.exec(eye.text())?.[1] ?? '';
  const cut = (Number(target) - 0.2).toFixed(2);
  await eye.goes([`${target}\r`, 'AT SIZE']);
  expect(eye.text()).not.toMatch(/runs from|will run/);
  await eye.goes(
    ['\r', 'Spigot kept'],
    ['n', '◆spigot thread'],
    ['+++++++++', 'strokes 9'],
    [`${target}\r`, 'its crests are still whole'],
    [`${cut}\r`, `over the crests ${cut} mm`],
    ['u', `spigot ${target} mm`],
    [`${cut}\r`, 'Look at the flat left on the crest'],
    ['\r', 'by trial: depth not measured'],
    ['n', '◆trial'],
    ['', "fit unknown: one depth isn't measured"],
    ['2', 'TRIAL 1  was tight'],
    ['', 'a stroke or two deeper'],
    ['b', '◆spigot thread'],
    ['+++', 'strokes 12'],
    ['\rn', 'The thread is deeper now'],
    ['3', 'It runs. Press n'],
    ['n', '◆record'],
    ['\r', 'CLOSED'],
  );
  expect(await eye.left()).toBe(0);

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
  await begin(eye, { name: 'green box', pitch: '16tpi', depth: '1mm' }, 'hollow');
  await eye.goes(
    ['42.30\r', '42.30'],
    ['\r', /kept/i],
    ['42.20\r', '42.20'],
    ['\r', /kept/i],
    ['', /TAPERED/],
    ['n', '◆bore thread'],
    ['n', '◆bore size'],
    ['42.30\r42.30\r42.30\r', '3 READINGS'],
    ['\r', 'Bore kept'],
    ['a', 'a quarter turn round'],
    ['42.18\r', 'reading 1  42.18 mm'],
    // Half the difference over a quarter of pi: the widths average (42.30 + 42.18) / 2 less (pi / 4) 0.12 mm.
    ['\r', '0.12 mm: fits like 42.15 mm'],
    ['n', '◆spigot'],
    // Four depths less twice the height of a sharp 60 degree thread, 1.250 mm, over that bore, 0.10 mm less where
    // the bore is narrowest, and 0.15 mm of clearance wanted: 42.146 - 0.10 + 1.250 - 0.15.
    ['', 'target 43.15 mm'],
    ['43.15\r', 'AT SIZE'],
    ['\r', 'Spigot kept'],
    // In its widest turn that leaves 42.146 - 0.10 + 1.250 - 43.15 = 0.146 mm; square to it twice (pi / 4) 0.12 mm more,
    // and 0.10 mm more at the mouth.
    ['', 'at its loosest 0.29 mm more'],
    ['a', 'spigot, at its end'],
    ['43.20\r', 'kept at its shoulder 43.15 mm'],
    ['\r', 'taper 0.05 mm wider at the end'],
    ['', 'fit tightens by 0.15 mm going in'],
    ['', 'at its loosest 0.34 mm more'],
    ['n', '◆spigot thread'],
    ['n', 'computed fit running'],
    ['2', 'TRIAL 1  was tight'],
  );
  expect(await eye.left()).toBe(0);
  expect((await record()).kinds).toContain('trial-made');
  const { out } = await day.run('jobs', 'show', '1');
  expect(out).toMatch(/shape of the bore +oval 0\.12 mm .*0\.10 mm wider at the mouth/);
  expect(out).toMatch(/shape of the spigot +0\.05 mm wider at the end/);
  expect(out).toMatch(/loosest clearance +0\.34 mm more than at its tightest/);
  expect((await day.run('sheet', '1')).out).toMatch(/oval 0\.12 mm/);
});

test('a session broken by unplug, a board restart mid-thread, a kill and a resume loses nothing and counts nothing on', async () => {
  const LOST = /VOID|touch off again/i;
  const board = await day.withFeed().board();
  const first = await plugged(board);
  await begin(first, { name: 'broken box', depth: '1mm' });
  await board.rock(42.3, 2);
  await first.goes([() => board.pair.unplug(), /unplugged|gone|lost/i]);
  await board.pair.replug();
  await board.pair.waitForReceived('?', 2);
  await first.goes(
    [() => board.restart(), 'test-01'],
    [() => board.rock(42.3, 5), 'STEADY'],
    ['\r', 'Bore kept'],
    [() => back(first, 'bore thread'), 'NOT TOUCHED OFF'],
    ['\r', TOUCHED_OFF],
    [() => board.feed(2), /2 of 5 detents/],
    [() => board.restart(), LOST],
    [() => board.feed(3), LOST],
  );
  first.signal('SIGKILL');
  await first.ended();

  // Two turns of the far end's loop: whatever the first program still sent is counted then.
  await board.pair.write('');
  await board.pair.write('');
  const asked = board.pair.received().split('?').length - 1;
  const second = day.open(board);
  await board.pair.waitForReceived('?', asked + 1);
  await second.goes(
    [() => board.hello(), 'test-01'],
    ['', '◆bore thread'],
    ['', 'broken box'],
    ['', LOST],
    ['\r', TOUCHED_OFF],
    [() => board.feed(5), 'FULL DEPTH'],
    ['\r', 'Thread kept'],
  );
  expect(await second.left()).toBe(0);
  const { kinds } = await record();
  expect(kinds).toContain('depth-voided');
  expect(kinds.filter((kind) => kind === 'touched-off')).toHaveLength(2);
  expect(kinds).toContain('bore-taken');
});
