// The terminal taken over: the built program in a real pseudo-terminal. tests/whole/faults-leaving.test.ts leaves it in every way.
import { once } from 'node:events';
import { PassThrough, Writable } from 'node:stream';
import { afterEach, expect, test } from 'vitest';
import { drawnDisplay } from '../../src/commands/bench/displays.ts';
import { Table } from '../support/bench.ts';
import { Day } from '../support/day.ts';
import type { Eye } from '../support/terminal.ts';
import { Emulator } from '../support/terminal-screen.ts';

let day = new Day();
afterEach(async () => {
  await day.close();
  day = new Day();
});

const opened = async (eye: Eye): Promise<Eye> => {
  await eye.untilShown('to begin a job');
  expect(eye.emulator.onAlternateScreen).toBe(true);
  return eye;
};

test('resizes while running repaint everything at the new size', async () => {
  const eye = await opened(day.open());
  for (const [columns, rows] of [
    [120, 40],
    [60, 16],
    [42, 10],
    [80, 24],
  ] as const) {
    eye.resize(columns, rows);
    const key = columns < 60 ? 'is too small' : 'Enter new job';
    await eye.until(`the last rows at ${columns}x${rows}`, (screen) =>
      screen.slice(-4).some((row) => row.includes(key)),
    );
    expect(eye.screen()).toHaveLength(rows);
  }
});

test('a terminal that is stopped and goes on is drawn again', async () => {
  const eye = await opened(day.open());
  const before = eye.bytes;
  eye.signal('SIGSTOP');
  eye.signal('SIGCONT');
  await eye.until('a whole new screen', () => eye.bytes - before > 1000);
  await eye.untilShown('to begin a job');
});

test('Ctrl-Z gives a shell its terminal back, and fg the bench, also where another program started it', async () => {
  // As under npm: a parent in the same group, which must stop as well.
  const program = `sh -c '"${process.execPath}" "${import.meta.dirname}/../../dist/lidwright.js" bench; true'`;
  const eye = day.open(undefined, { command: ['/bin/sh', '-i'], env: { PS1: 'shell: ' } });
  await eye.untilShown('shell:');
  eye.type(`${program}\r`);
  await opened(eye);
  // Keys that arrive along with it were meant for the shell, and are nothing to the bench.
  eye.type('\x1aj');
  const asks = (screen: readonly string[]) =>
    screen.findLast((row) => row.trim() !== '')?.trim() === 'shell:';
  await eye.until('the shell asks', (screen) => !eye.emulator.onAlternateScreen && asks(screen));
  await eye.goes(['stty -a\r', /[^-]icanon/], ['fg\r']);
  await eye.until('the bench is back', () => eye.emulator.onAlternateScreen);
  eye.press('?');
  await eye.until('the help, not the jobs', (screen) => /◆ help|◆ jobs/.test(screen.join()));
  expect(eye.text()).toContain('◆ help');
  eye.press('ctrl-c');
  await eye.until('the shell is back', () => !eye.emulator.onAlternateScreen);
});

test('pasted text is text: it neither leaves nor is entered', async () => {
  const eye = await opened(day.open());
  expect(eye.raw()).toContain('\x1b[?2004h');
  await eye.goes(['\x1b[200~qqq\r\x1b[201~', 'typed: qqq'], ['\x1b']);
  await eye.until('nothing typed', (screen) => !screen.join('').includes('typed:'));
  await eye.goes(['w', '◆ new job'], ['\x1b[200~Pear\nbox q\x1b[201~', /name +Pear box q +$/]);
});

/** The welcome as it is drawn with this in the environment. */
const openedWith = (env: Readonly<Record<string, string>>): Promise<Eye> =>
  opened(day.open(undefined, { env }));

test('CI in the environment changes nothing', async () => {
  await openedWith({ CI: 'true', CI_SERVER: '1' });
});

test('NO_COLOR leaves words and shapes, and no colour', async () => {
  const eye = await openedWith({ NO_COLOR: '1' });
  const styles = new Set(eye.cells().flatMap((row) => row.map(({ style }) => style)));
  expect([...styles].filter((style) => /fg|bg/.test(style))).toEqual([]);
  expect(styles).toContain('bold');
  expect(eye.text()).toContain('▲ Stop the lathe before the jaws touch the work.');
});

test('a locale without UTF-8 is drawn in ASCII', async () => {
  const eye = await openedWith({ LANG: 'C' });
  expect(eye.text()).toMatch(/^[\x20-\x7e\n]*$/);
  expect(eye.text()).toContain('! Stop the lathe before the jaws touch the work.');
});

test('the escape key alone is heard, and sequences that are no keys are not', async () => {
  const eye = await opened(day.open());
  await eye.goes(
    ['w', '◆ new job'],
    ['\x1b]11;rgb:1414/1717/1a1a\x07\x1b[?997;1n\x1b[<0;12;7M'],
    ['Quince', /name +Quince +$/],
    ['\x1b', '◆ welcome'],
  );
});

/** A terminal that accepts nothing until the test says so: every write finds it full. */
class SlowTerminal extends Writable {
  readonly columns = 80;
  readonly rows = 24;
  readonly taken: Buffer[] = [];
  /** Takes the write that is under way. */
  takeOne = (): void => undefined;

  constructor() {
    super({ highWaterMark: 1 });
  }

  override _write(chunk: Buffer, _: string, done: () => void): void {
    this.taken.push(chunk);
    this.takeOne = done;
    this.emit('offered');
  }
}

test('a full terminal is left alone until it takes more, and then gets the newest picture and none in between', async () => {
  const output = new SlowTerminal();
  const table = new Table().to('bore size');
  const streams = { output, input: new PassThrough() };
  const open = drawnDisplay({ bell: 'on', glyphs: 'all' }, streams);
  const display = open(
    () => undefined,
    () => table.bench,
    () => undefined,
  );
  expect(output.listenerCount('drain')).toBe(1);
  for (let count = 0; count < 30; count += 1) {
    table.type((42 + count / 1000).toFixed(3));
    display.show(table.bench);
    display.sound('near');
  }
  expect(output.listenerCount('drain')).toBe(1);
  // The other screen was asked for, and nothing was drawn behind that.
  expect(output.writableLength).toBe(output.taken[0]?.length);
  const offered = once(output, 'offered');
  output.takeOne();
  await offered;
  const emulator = new Emulator(80, 24);
  await emulator.write(Buffer.concat(output.taken));
  expect(emulator.screen().join('\n')).toContain('30 READINGS');
  const text = Buffer.concat(output.taken).toString('utf8');
  expect(text).not.toContain('\x07');
  expect(text.split('READINGS')).toHaveLength(2);
  display.close();
  expect(output.listenerCount('drain')).toBe(0);
});

test('in plain sentences a lone escape leaves the form', async () => {
  const eye = day.open(undefined, { args: ['--spoken', 'on'], rows: 50 });
  await eye.goes(['', 'welcome.'], ['w', /^new job\. *$/], ['\x1b']);
  const welcomes = (screen: readonly string[]) => screen.filter((row) => row.trim() === 'welcome.');
  await eye.until('the welcome again', (screen) => welcomes(screen).length === 2);
  expect(await eye.left()).toBe(0);
});
