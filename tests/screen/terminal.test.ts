// The terminal taken over: the built program in a real pseudo-terminal. tests/whole/faults-leaving.test.ts leaves it in every way.
import { afterEach, expect, test } from 'vitest';
import { Day } from '../support/day.ts';
import type { Eye } from '../support/terminal.ts';

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
  eye.type('stty -a\r');
  await eye.untilShown(/[^-]icanon/);
  eye.type('fg\r');
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
  eye.type('\x1b[200~qqq\r\x1b[201~');
  await eye.untilShown('typed: qqq');
  eye.press('escape');
  await eye.until('nothing typed', (screen) => !screen.join('').includes('typed:'));
  eye.press('w');
  await eye.untilShown('◆ new job');
  eye.type('\x1b[200~Pear\nbox q\x1b[201~');
  await eye.untilShown(/name +Pear box q +$/);
});

test('CI in the environment changes nothing', async () => {
  await opened(day.open(undefined, { env: { CI: 'true', CI_SERVER: '1' } }));
});

test('NO_COLOR leaves words and shapes, and no colour', async () => {
  const eye = await opened(day.open(undefined, { env: { NO_COLOR: '1' } }));
  const styles = new Set(eye.cells().flatMap((row) => row.map(({ style }) => style)));
  expect([...styles].filter((style) => /fg|bg/.test(style))).toEqual([]);
  expect(styles).toContain('bold');
  expect(eye.text()).toContain('▲ Stop the lathe before the jaws touch the work.');
});

test('a terminal of sixteen colours is given sixteen', async () => {
  const eye = await opened(day.open(undefined, { env: { TERM: 'xterm' } }));
  const colours = eye.cells().flatMap((row) => row.flatMap(({ style }) => /fg(\d+)/.exec(style)?.[1] ?? []));
  expect(colours.length).toBeGreaterThan(0);
  for (const colour of colours) expect(Number(colour)).toBeLessThan(16);
});

test('a locale without UTF-8 is drawn in ASCII', async () => {
  const eye = await opened(day.open(undefined, { env: { LANG: 'C' } }));
  expect(eye.text()).toMatch(/^[\x20-\x7e\n]*$/);
  expect(eye.text()).toContain('! Stop the lathe before the jaws touch the work.');
});

test('the escape key alone is heard, and sequences that are no keys are not', async () => {
  const eye = await opened(day.open());
  eye.press('w');
  await eye.untilShown('◆ new job');
  eye.type('\x1b]11;rgb:1414/1717/1a1a\x07\x1b[?997;1n\x1b[<0;12;7M');
  eye.type('Quince');
  await eye.untilShown(/name +Quince +$/);
  eye.press('escape');
  await eye.untilShown('◆ welcome');
});
