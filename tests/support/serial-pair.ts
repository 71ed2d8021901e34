// A serial port for tests: a real pseudo-terminal pair whose far end is held by a separate process, so that it can be unplugged.
import { type ChildProcess, fork } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { freshFolder } from './fresh-folder.ts';
import { createChanges } from './waiting.ts';

const HOLDER = fileURLToPath(new URL('serial-pair-holder.mjs', import.meta.url));

export type SerialPair = Awaited<ReturnType<typeof openSerialPair>>;

/** Opens a pair, plugged in and ready. */
export async function openSerialPair() {
  const devicePath = join(freshFolder(), 'board');
  const { give, ...holder } = createOrders(
    fork(HOLDER, [devicePath], { serialization: 'advanced', execArgv: [] }),
  );
  await give('plug');
  return {
    /** What the program opens: a name that stays the same when the device is unplugged and comes back. */
    devicePath,
    /** Sends bytes as the board does (text: one character, one byte); settles when the kernel has taken them all. */
    write: (bytes: Bytes) => give('write', { bytes: bytesOf(bytes) }),
    /** Sends a file's bytes as fast as the port accepts them. */
    writeFile: (file: string) => give('write-file', { file }),
    /** Sends these one after another, waiting this many milliseconds after each, as a device without a clock would. */
    play: (everyMs: number, parts: readonly string[]) => give('play', { everyMs, parts: parts.map(bytesOf) }),
    /** Sends a file's lines at an even pace. */
    playFile: (file: string, perSecond: number) => give('play-file', { file, perSecond }),
    /** Sends, and goes at once: the far side ends right after writing. */
    writeAndUnplug: (bytes: Bytes) => give('write-unplug', { bytes: bytesOf(bytes) }),
    unplug: () => give('unplug'),
    replug: () => give('plug'),
    ...holder,
  };
}

type Bytes = string | Uint8Array;
const bytesOf = (bytes: Bytes): Buffer =>
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
      // An order that doesn't reach a holder that is ending fails here, not as an error of nobody.
      holder.send({ kind, ...order }, (error) => error && failed(error));
    });

  return {
    give,
    /** All that the program has sent so far. */
    received: () => received,
    /** Settles once the program has sent `text` this many times, counted from the start. */
    waitForReceived: (text: string, times = 1): Promise<void> =>
      until(() => received.split(text).length > times),
    /** Ends the process; safe to call twice. */
    close(): Promise<void> {
      holder.kill('SIGKILL');
      return ended;
    },
  };
}
