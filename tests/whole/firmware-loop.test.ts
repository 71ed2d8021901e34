// The whole chain: leads and contacts, the kept image, a pseudo-terminal, the serial port and the built bench screen.
import { expect, onTestFinished, test } from 'vitest';
import { type Day, openDay } from '../support/day.ts';
import { type Frame, flipped, type LoopedBoard, openLoopedBoard, rockOf } from '../support/looped-board.ts';
import type { Eye } from '../support/terminal.ts';

const TRUTH = 42.3;

interface KeptEntry {
  readonly fact: {
    readonly kind: string;
    readonly diameterMm?: number;
    readonly detents?: number;
    readonly why?: string;
    readonly mark?: { readonly total: number; readonly board?: string };
  };
  readonly readings: readonly { readonly valueMm: number; readonly raw: string }[];
}

async function entriesKept(day: Day): Promise<readonly KeptEntry[]> {
  const { out, code, err } = await day.run('jobs', 'show', '1', '--json');
  expect(code, err).toBe(0);
  return (JSON.parse(out) as { entries: readonly KeptEntry[] }).entries;
}

function entryOf(entries: readonly KeptEntry[], kind: string): KeptEntry {
  const found = entries.find(({ fact }) => fact.kind === kind);
  if (!found) throw new Error(`nothing kept of the kind ${kind}`);
  return found;
}

/** What was kept of the feed, one row a fact: touch-offs and counts with the board's total, voids with their reason. */
const feedStory = (entries: readonly KeptEntry[]): readonly string[] =>
  entries.flatMap(({ fact: { kind, mark, why, detents } }) => {
    if (mark) return `${kind} ${mark.board} ${mark.total}`;
    return kind === 'depth-voided' || kind === 'thread-cut' ? `${kind} ${why ?? detents}` : [];
  });

const marked = (screen: readonly string[]): string => screen.find((row) => row.includes('▸')) ?? '';

/** A board on its port, the bench on it, and a job whose threads are five detents of 0.2 mm deep. */
async function begun(name: string) {
  const board = await openLoopedBoard();
  onTestFinished(() => board.close());
  const day = openDay();
  const eye = day.withFeed().open(undefined, { args: ['--port', board.path] });
  await eye.untilShown('bench-01');
  await board.holds(0, 22); // over a second of its time: it has said where its feed stands
  eye.press('w');
  await eye.untilShown('◆ new job');
  eye.type(name);
  await eye.untilShown(name);
  for (let field = marked(eye.screen()); !field.includes('▸ depth '); field = marked(eye.screen())) {
    eye.press('enter');
    await eye.until(`a field after ${field}`, (screen) => marked(screen) !== field);
  }
  eye.type('1mm');
  await eye.untilShown(/▸ depth +1mm/);
  eye.type('\x1b[F');
  await eye.untilShown('◆bore size');
  return { day, board, eye };
}

/** Rocks in which leads lose and add edges, and flip a level where it does most harm: on a top, and far up. */
function spoiltRock(): readonly Frame[] {
  const harms = new Map<number, (frame: Frame) => Frame>([
    [4, (frame) => ({ ...frame, damage: 'edge-lost' })],
    [25, (frame) => flipped(frame, 5)],
    [29, (frame) => ({ ...frame, damage: 'edge-added' })],
    [60, (frame) => flipped(frame, 13)],
    [64, (frame) => ({ ...frame, damage: 'cut-short' })],
  ]);
  return rockOf(TRUTH, 5).map((frame, at) => harms.get(at)?.(frame) ?? frame);
}

async function touchOff(board: LoopedBoard, eye: Eye): Promise<void> {
  await eye.untilShown(/NOT TOUCHED OFF|DEPTH VOID/);
  await board.press(1);
  await eye.untilShown('0 of 5 detents');
  await eye.untilShown('◐ TOUCHED OFF');
}

test('from leads and contacts to a kept pair: a bore rocked through damage, a spigot at size, five detents, by the buttons', async () => {
  const { day, board, eye } = await begun('looped box');
  await board.shows(spoiltRock());
  await eye.untilShown('STEADY');
  await eye.untilShown(/42\.(29|30) ±/);
  await board.press(1);
  await eye.untilShown('Bore kept');
  await board.press(3);
  await eye.untilShown('◆spigot');
  await board.holds(45);
  await eye.untilShown('TURN DOWN');
  await board.holds(43.6);
  await eye.untilShown('NEAR');
  await board.holds(43.55);
  await eye.untilShown('AT SIZE');
  await board.press(1);
  await eye.untilShown('Spigot kept');
  await board.press(3);
  await touchOff(board, eye);
  await board.feed(2);
  await eye.untilShown('2 of 5 detents');
  await board.feed(3);
  await eye.untilShown('FULL DEPTH');
  await board.press(1);
  await eye.untilShown('Thread kept');
  expect(eye.text()).not.toMatch(/\d+ (lost|restart)/);
  eye.press('q');
  expect(await eye.ended()).toEqual({ code: 0, signal: 0 });

  const entries = await entriesKept(day);
  const bore = entryOf(entries, 'bore-taken');
  expect(bore.fact.diameterMm).toBeGreaterThan(TRUTH - 0.02);
  expect(bore.fact.diameterMm).toBeLessThan(TRUTH + 0.02);
  expect(entryOf(entries, 'spigot-taken').fact.diameterMm).toBe(43.55);
  expect(entryOf(entries, 'thread-cut').fact).toMatchObject({ detents: 5, depthMm: 1 });
  expect(feedStory(entries)).toEqual([
    'touched-off bench-01 0',
    ...[1, 2, 3, 4, 5].map((total) => `feed-counted bench-01 ${total}`),
    'thread-cut 5',
  ]);
  // Flipped levels came through as readings and are kept as such; the lost, added and cut edges were dropped on the board.
  const said = board.chip.lines.map(({ text }) => text);
  for (const { raw } of bore.readings) expect(said).toContain(raw);
  const values = bore.readings.map(({ valueMm }) => valueMm);
  expect(values).toContain(42.62);
  expect(Math.max(...values)).toBeGreaterThan(TRUTH + 80);
  expect(said.filter((line) => line.includes(',caliper-frame*'))).toHaveLength(3);
  // The first HI is the start's; another one is the answer to the program's question.
  expect(said.filter((line) => line.startsWith('HI,')).length).toBeGreaterThan(1);
});

test('a board reset or hung in the middle of a thread is counted on only from a new touch-off', async () => {
  const { day, board, eye } = await begun('reset box');
  await board.press(4);
  await eye.untilShown('◆bore thread');
  await touchOff(board, eye);
  await board.feed(2);
  await eye.untilShown('2 of 5 detents');
  await board.resetInsideLine();
  await eye.untilShown('DEPTH VOID');
  await eye.untilShown('the board restarted');
  await eye.untilShown(/press Enter to touch off/);
  await eye.untilShown(/1 lost, \d+ damaged, 1 restart/);
  await board.feed(3);
  await touchOff(board, eye);
  await board.feed(1);
  await eye.untilShown('1 of 5 detents');
  await board.hang();
  await eye.untilShown('DEPTH VOID');
  await touchOff(board, eye);
  await board.feed(5);
  await eye.untilShown('FULL DEPTH');
  await board.press(1);
  await eye.untilShown('Thread kept');
  eye.press('q');
  expect(await eye.ended()).toEqual({ code: 0, signal: 0 });

  // Three detents were turned while the depth was void: heard, since the next touch-off stands at them, and not counted.
  expect(feedStory(await entriesKept(day))).toEqual([
    'touched-off bench-01 0',
    'feed-counted bench-01 1',
    'feed-counted bench-01 2',
    'depth-voided restart',
    'touched-off bench-01 3',
    'feed-counted bench-01 4',
    'depth-voided restart',
    'touched-off bench-01 0',
    ...[1, 2, 3, 4, 5].map((total) => `feed-counted bench-01 ${total}`),
    'thread-cut 5',
  ]);
});
