// A serial port for tests: a real pseudo-terminal pair whose far end a python3 child holds, so that it can be unplugged.
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

export interface SerialPair {
  /** What the program opens: a name that stays the same when the device is unplugged and comes back. */
  readonly devicePath: string;
  /** Sends bytes as the board does (text: one character, one byte); settles when the kernel has taken them all. */
  write(bytes: string | Uint8Array): Promise<void>;
  /** Sends a file's bytes as fast as they are taken. */
  writeFile(file: string): Promise<void>;
  /** Sends these one after another with so many milliseconds between them, as a device without a clock of its own would. */
  play(everyMs: number, parts: readonly string[]): Promise<void>;
  /** Sends a file's lines at an even pace. */
  playFile(path: string, perSecond: number): Promise<void>;
  /** Sends, and goes at once: the far side ends right after writing. */
  writeAndUnplug(bytes: string | Uint8Array): Promise<void>;
  unplug(): Promise<void>;
  replug(): Promise<void>;
  /** All that the program has sent so far. */
  received(): string;
  /** Settles once the program has sent `text` `times` over, counted from the start. */
  waitForReceived(text: string, times?: number): Promise<void>;
  /** Ends the child and removes its folder; safe to call twice. */
  close(): Promise<void>;
}

const CHILD = fileURLToPath(new URL('serial-pair.py', import.meta.url));
const NEEDS_PYTHON =
  'these tests hold a serial port open with python3 (its standard library is enough), and it could not be started: install python3, for instance with "apt-get install python3"';

/** Opens a pair, plugged in and ready; fails with a sentence that says so where python3 is missing. */
export async function openSerialPair(): Promise<SerialPair> {
  const folder = mkdtempSync(join(tmpdir(), 'lidwright-pair-'));
  const devicePath = join(folder, 'board');
  const child = spawn('python3', ['-u', CHILD, devicePath], { stdio: ['pipe', 'pipe', 'pipe'] });
  const orders = createOrders(child);
  await orders.give('plug').catch((cause: unknown) => {
    rmSync(folder, { recursive: true, force: true });
    throw cause;
  });
  return {
    devicePath,
    write: (bytes) => orders.give(`write ${hex(bytes)}`),
    writeFile: (file) => orders.give(`write-file ${file}`),
    play: (everyMs, parts) => orders.give(`play ${everyMs} ${parts.map(hex).join(' ')}`),
    playFile: (path, perSecond) => orders.give(`play-file ${perSecond} ${path}`),
    writeAndUnplug: (bytes) => orders.give(`write-unplug ${hex(bytes)}`),
    unplug: () => orders.give('unplug'),
    replug: () => orders.give('plug'),
    received: orders.received,
    waitForReceived: orders.waitForReceived,
    async close() {
      await orders.end();
      if (existsSync(folder)) rmSync(folder, { recursive: true, force: true });
    },
  };
}

const hex = (bytes: string | Uint8Array): string =>
  (typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : Buffer.from(bytes)).toString('hex');

interface Waiting {
  readonly done: () => void;
  readonly failed: (cause: Error) => void;
}

/** Orders to the child, answered in their order; and what the program sent, as the child tells it. */
function createOrders(child: ChildProcess) {
  const { stdin, stdout, stderr } = child;
  if (!stdin || !stdout || !stderr) throw new TypeError('the child needs its three streams');
  const waiting: Waiting[] = [];
  const watchers = new Set<() => void>();
  let received = '';
  let complaint = '';
  let gone: Error | undefined;

  const ended = new Promise<void>((resolve) => {
    const fail = (cause: Error): void => {
      gone = cause;
      for (const each of waiting.splice(0)) each.failed(cause);
      resolve();
    };
    child.on('error', (cause) => fail(new Error(`${NEEDS_PYTHON} (${cause.message})`)));
    child.on('close', () => fail(new Error(`the far end of the serial pair has ended: ${complaint}`)));
  });
  stdin.on('error', () => undefined);
  stderr.on('data', (text: Buffer) => {
    complaint += text.toString('utf8');
  });
  createInterface({ input: stdout }).on('line', (line) => {
    const [word, rest] = line.split(' ');
    if (word === 'done') waiting.shift()?.done();
    if (word !== 'sent') return;
    received += Buffer.from(rest ?? '', 'hex').toString('latin1');
    for (const each of watchers) each();
  });

  const give = (order: string): Promise<void> =>
    new Promise((done, failed) => {
      if (gone) return failed(gone);
      waiting.push({ done, failed });
      stdin.write(`${order}\n`);
    });

  const waitForReceived = (text: string, times = 1): Promise<void> =>
    new Promise((resolve) => {
      const look = (): void => {
        if (received.split(text).length <= times) return;
        watchers.delete(look);
        resolve();
      };
      watchers.add(look);
      look();
    });

  const end = (): Promise<void> => {
    child.kill('SIGKILL');
    return ended;
  };
  return { give, end, received: () => received, waitForReceived };
}
