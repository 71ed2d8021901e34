// The serial link on a real pseudo-terminal pair: opening, lines, unplugging, coming back, being second, and not spinning.
import { expect, onTestFinished, test } from 'vitest';
import type { LinkEvent } from '../../src/core/bench/event.ts';
import { millis } from '../../src/core/units.ts';
import type { Link } from '../../src/link/link.ts';
import { SerialLink, type SerialSettings } from '../../src/link/serial-link.ts';
import { encode } from '../../src/wire/encode.ts';
import { openSerialPair, type SerialPair } from '../support/serial-pair.ts';
import { createChanges } from '../support/waiting.ts';

const hello = (board: string, seq: number, ms: number): string =>
  `${encode({ kind: 'HI', firmware: '1.0.0', board, parts: ['caliper'] }, seq, ms)}\n`;
const shown = (text: string, seq: number, ms: number): string =>
  `${encode({ kind: 'DI', text, unit: 'mm' }, seq, ms)}\n`;

async function pair(): Promise<SerialPair> {
  const opened = await openSerialPair();
  onTestFinished(opened.close);
  return opened;
}

/** A link with all it has said, and a way to wait until it has said enough. */
function listen(settings: SerialSettings, onLine: () => void = () => undefined) {
  const lines: string[] = [];
  const events: LinkEvent[] = [];
  const tails: string[] = [];
  const rounds: string[] = [];
  const { changed, until } = createChanges();
  const link: Link = new SerialLink({
    ports: async () => [],
    ...settings,
    onStep: (input, effects) => {
      rounds.push(input, ...effects.filter((effect) => typeof effect === 'string'));
      changed();
    },
  });
  link.open({
    line: (text) => {
      lines.push(text);
      onLine();
      changed();
    },
    event: (event) => {
      events.push(event);
      changed();
    },
    unfinished: (tail) => tails.push(tail),
  });
  onTestFinished(() => link.close());
  const kinds = (): string[] => events.map((event) => event.kind);
  const count = (what: string): number => [...rounds, ...kinds()].filter((each) => each === what).length;
  return { link, lines, events, tails, rounds, until, kinds, count };
}

/** The same on a new pair, once the program has asked the board who it is. */
async function listening(settings: Partial<SerialSettings> = {}, onLine?: () => void) {
  const board = await pair();
  const heard = listen({ path: board.devicePath, ...settings }, onLine);
  await board.waitForReceived('?\n');
  return { board, heard };
}

test('opens, asks, and passes on each line, damaged bytes unchanged', async () => {
  const { board, heard } = await listening();
  expect(heard.kinds()).toEqual(['link-opened']);
  await board.write(hello('elm-1', 0, 3));
  await board.write('\x9b\xff\x00 broken\r\n');
  await heard.until(() => heard.lines.length === 2);
  expect(heard.lines).toEqual([hello('elm-1', 0, 3).trim(), '\x9b\xff\x00 broken']);
  heard.link.ask();
  await board.waitForReceived('?\n', 2);
});

test('notices unplugging, does not read the tail as a line, and comes back by itself at the same path', async () => {
  const { board, heard } = await listening();
  await board.write(`${shown('42.30', 1, 120)}DI,2,24`);
  await heard.until(() => heard.lines.length === 1);
  await board.unplug();
  await heard.until(() => heard.kinds().includes('link-lost'));
  expect(heard.tails).toEqual(['DI,2,24']);
  await board.replug();
  await heard.until(() => heard.count('link-opened') === 2);
  await board.waitForReceived('?\n', 2);
  await board.write(shown('42.31', 3, 370));
  await heard.until(() => heard.lines.length === 2);
  expect(heard.lines[1]).toBe(shown('42.31', 3, 370).trim());
});

test('a bare number that may have begun before the opening is not read; the next one is', async () => {
  const { board, heard } = await listening({ now: () => millis(0) });
  await board.write('2.34\r\n52.34\r\n');
  await heard.until(() => heard.lines.length === 1);
  expect(heard.lines).toEqual(['52.34']);
  expect(heard.tails).toEqual(['2.34']);
});

test('a program busy with a line for long does not count that as silence and close the port', async () => {
  let clock = 0;
  const busy = (): void => {
    clock += 6000;
  };
  const { board, heard } = await listening({ now: () => millis(clock) }, busy);
  await board.write(hello('elm-1', 0, 3));
  await heard.until(() => heard.lines.length === 1);
  const before = heard.count('time-passed');
  await heard.until(() => heard.count('time-passed') >= before + 3);
  expect(heard.rounds).not.toContain('close-port');
});

test('a missing port is refused once, with what to do, and opened when it appears', async () => {
  const board = await pair();
  await board.unplug();
  const heard = listen({ path: board.devicePath });
  await heard.until(() => heard.count('port-refused') === 3);
  expect(heard.kinds()).toEqual(['link-refused']);
  expect(heard.events[0]).toMatchObject({ why: expect.stringContaining('Plug the board in') });
  await board.replug();
  await heard.until(() => heard.kinds().includes('link-opened'));
});

test('the second opener sees which program has the port open, and gets it when that one closes', async () => {
  const board = await pair();
  const first = listen({ path: board.devicePath });
  await first.until(() => first.kinds().includes('link-opened'));
  const second = listen({ path: board.devicePath });
  await second.until(() => second.events.length === 1);
  expect(second.events[0]).toMatchObject({
    kind: 'link-refused',
    why: expect.stringMatching(new RegExp(`is open in .*\\(process ${process.pid}\\)\\. Close it there`)),
  });
  await first.link.close();
  await second.until(() => second.kinds().includes('link-opened'));
});

test('a board that comes back at another port is known by its id, and other boards there are left alone', async () => {
  const [strange, elsewhere] = [await pair(), await pair()];
  let there: string[] = [];
  const { board: home, heard } = await listening({ ports: async () => there });
  await home.write(hello('elm-1', 0, 3));
  await heard.until(() => heard.lines.length === 1);
  await home.unplug();
  await heard.until(() => heard.kinds().includes('link-lost'));
  there = [strange.devicePath, elsewhere.devicePath];
  await strange.waitForReceived('?\n');
  await strange.write(hello('oak-2', 0, 3));
  await elsewhere.waitForReceived('?\n');
  await elsewhere.write(hello('elm-1', 0, 3));
  await heard.until(() => heard.count('link-opened') === 2);
  expect(heard.events.at(-1)).toMatchObject({ kind: 'link-opened', port: elsewhere.devicePath });
  expect(heard.lines).toHaveLength(1);
});

test('a far side that ends right after writing is noticed every time, within a few beats', async () => {
  const { board, heard } = await listening();
  for (let time = 1; time <= 10; time++) {
    await heard.until(() => heard.count('link-opened') === time);
    const before = heard.count('time-passed');
    await board.writeAndUnplug(shown('42.30', time, 120 * time).repeat(3));
    await heard.until(() => heard.count('link-lost') === time);
    // The library may miss the end and read in circles, until one of these beats looks for the device and finds it gone.
    expect(heard.count('time-passed') - before).toBeLessThan(10);
    await board.replug();
  }
  expect(heard.rounds.length).toBeLessThan(10 * 60);
});

test('closing leaves the port free at once, also while it is still being opened', async () => {
  const board = await pair();
  const hasty = listen({ path: board.devicePath });
  await hasty.link.close();
  await hasty.link.close();
  const next = listen({ path: board.devicePath });
  await next.until(() => next.events.length === 1);
  expect(next.kinds()).toEqual(['link-opened']);
});
