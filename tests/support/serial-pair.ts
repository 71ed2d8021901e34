// A serial port for tests: a real pseudo-terminal pair whose far end is held by a separate process, so that it can be unplugged.
import { type ChildProcess, fork } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { freshFolder } from './fresh-folder.ts';
import { createChanges } from './waiting.ts';

export interface SerialPair {
  /** What the program opens: a name that stays the same when the device is unplugged and comes back. */
  readonly devicePath: string;
  /** Sends bytes as the board does (text: one character, one byte); settles when the kernel has taken them all. */
  write(bytes: string | Uint8Array): Promise<void>;
  /** Sends a file's bytes as fast as the port accepts them. */
  writeFile(file: string): Promise<void>;
  /** Sends these one after another, waiting this many milliseconds after each, as a device without a clock would. */
  play(everyMs: number, parts: readonly string[]): Promise<void>;
  /** Sends a file's lines at an even pace. */
  playFile(file: string, perSecond: number): Promise<void>;
  /** Sends, and goes at once: the far side ends right after writing. */
  writeAndUnplug(bytes: string | Uint8Array): Promise<void>;
  unplug(): Promise<void>;
  replug(): Promise<void>;
  /** All that the program has sent so far. */
  received(): string;
  /** Settles once the program has sent `text` this many times, counted from the start. */
  waitForReceived(text: string, times?: number): Promise<void>;
  /** Ends the process; safe to call twice. */
  close(): Promise<void>;
}

const HOLDER = fileURLToPath(new URL('serial-pair-holder.mjs', import.meta.url));

/** Opens a pair, plugged in and ready. */
export async function openSerialPair(): Promise<SerialPair> {
  const devicePath = join(freshFolder(), 'board');
  const orders = createOrders(fork(HOLDER, [devicePath], { serialization: 'advanced', execArgv: [] }));
  await orders.give('plug');
  return {
    devicePath,
    write: (bytes) => orders.give('write', { bytes: bytesOf(bytes) }),
    writeFile: (file) => orders.give('write-file', { file }),
    play: (everyMs, parts) => orders.give('play', { everyMs, parts: parts.map(bytesOf) }),
    playFile: (file, perSecond) => orders.give('play-file', { file, perSecond }),
    writeAndUnplug: (bytes) => orders.give('write-unplug', { bytes: bytesOf(bytes) }),
    unplug: () => orders.give('unplug'),
    replug: () => orders.give('plug'),
    received: orders.received,
    waitForReceived: orders.waitForReceived,
    close: orders.end,
  };
}

const bytesOf = (bytes: string | Uint8Array): Buffer =>
  typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : Buffer.from(bytes);

interface Waiting {
  readonly done: () => void;
  readonly failed: (cause: Error) => void;
}

/** Orders to the holder, answered in their order; and what the program sent, as the holder reports it. */
function createOrders(holder: ChildProcess) {
  const waiting: Waiting[] = [];
  const { changed, until } = createChanges();
  let received = '';
  let gone: Error | undefined;

  const ended = new Promise<void>((resolve) => {
    holder.on('exit', (code, signal) => {
      gone = new Error(`the holder of the serial pair has ended (${signal ?? code})`);
      for (const each of waiting.splice(0)) each.failed(gone);
      resolve();
    });
  });
  holder.on('message', (message: { readonly sent?: Uint8Array }) => {
    if (message.sent === undefined) return waiting.shift()?.done();
    received += Buffer.from(message.sent).toString('latin1');
    changed();
  });

  const give = (kind: string, order: object = {}): Promise<void> =>
    new Promise((done, failed) => {
      if (gone) return failed(gone);
      waiting.push({ done, failed });
      holder.send({ kind, ...order });
    });

  const waitForReceived = (text: string, times = 1): Promise<void> =>
    until(() => received.split(text).length > times);

  const end = (): Promise<void> => {
    holder.kill('SIGKILL');
    return ended;
  };
  return { give, end, received: () => received, waitForReceived };
}
