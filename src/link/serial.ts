// A serial port opened, written, closed and listed by the serialport library; and why one would not open, in words that say what to do.
import { readdir, readFile, readlink, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { SerialPort } from 'serialport';
import { forScreen } from '../core/safe-text.ts';

export interface OpenPort {
  /** Sends text, one character one byte. What can't be sent any more is dropped: the board is asked again later. */
  send(text: string): void;
  /** Settles when the port is free again; never fails. */
  close(): Promise<void>;
}

interface PortHandlers {
  bytes(bytes: Buffer): void;
  /** The port closed by itself: unplugged, or hung up. Not called after `close`. */
  gone(why: string): void;
}

/** Opens a port at 8N1 without flow control; never fails: where it won't open, a sentence for the turner says why. */
export function openPort(path: string, baud: number, handlers: PortHandlers): Promise<OpenPort | string> {
  return new Promise((resolve) => {
    // hupcl off: DTR keeps its level when the port is closed, so that opening it again does not restart the board.
    const port = new SerialPort({ path, baudRate: baud, autoOpen: false, hupcl: false });
    let closedByUs = false;
    port.on('data', (bytes: Buffer) => {
      if (!closedByUs) handlers.bytes(bytes);
    });
    port.on('close', (cause: Error | null) => {
      if (!closedByUs) handlers.gone(cause?.message ?? 'closed');
    });
    // A write fails when the port disappears; `close` follows and handles it.
    port.on('error', () => undefined);
    port.open((cause) => {
      if (cause) return resolve(openFailure(path, cause.message));
      resolve({
        send: (text) => port.isOpen && port.write(text, 'latin1'),
        close: () => {
          closedByUs = true;
          return closed(port);
        },
      });
    });
  });
}

const closed = (port: SerialPort): Promise<void> =>
  new Promise((resolve) => {
    if (!port.isOpen && !port.closing) return resolve();
    port.once('close', () => resolve());
    port.once('error', () => resolve());
    if (port.isOpen) port.close(() => resolve());
  });

export interface ListedPort {
  readonly path: string;
  readonly maker?: string | undefined;
  readonly serial?: string | undefined;
}

/** The ports the system lists. Fails where it cannot, such as on Linux without udev. */
export async function listPorts(): Promise<readonly ListedPort[]> {
  const found = await SerialPort.list();
  return found.map(({ path, manufacturer, serialNumber }) => ({
    path,
    maker: manufacturer,
    serial: serialNumber,
  }));
}

/** Programs that have `path` open, as `name (process 123)`; empty where the system does not say. */
export async function portUsers(path: string, proc = '/proc'): Promise<readonly string[]> {
  try {
    const device = await realpath(path);
    const processes = (await readdir(proc)).filter((name) => /^\d+$/.test(name));
    const found = await Promise.all(processes.map((pid) => userOf(proc, pid, device)));
    return found.filter((name) => name !== undefined);
  } catch {
    return [];
  }
}

async function userOf(proc: string, pid: string, device: string): Promise<string | undefined> {
  try {
    const open = join(proc, pid, 'fd');
    for (const fd of await readdir(open)) {
      if ((await readlink(join(open, fd)).catch(() => '')) !== device) continue;
      const name = (await readFile(join(proc, pid, 'comm'), 'utf8')).trim();
      return `${forScreen(name, 24)} (process ${pid})`;
    }
  } catch {
    // A process that has ended since, or another user's, whose files are not shown.
  }
  return undefined;
}

/** True where another program has the port open: then it is worth finding out which. */
const isInUse = (message: string): boolean => /cannot lock|access denied|resource busy/i.test(message);

const openFailure = async (path: string, message: string): Promise<string> =>
  openFailureText(path, message, isInUse(message) ? await portUsers(path) : []);

/** A sentence for the turner from the system's own message; `users` have the port open, where they can be seen. */
export function openFailureText(path: string, message: string, users: readonly string[]): string {
  const port = forScreen(path);
  if (isInUse(message)) {
    const who =
      users.length > 0 ? users.join(', ') : 'another program, perhaps a serial monitor or a second lidwright';
    return `${port} is open in ${who}. Close it there, and the bench connects by itself.`;
  }
  if (/permission denied|operation not permitted/i.test(message))
    return `Can't open ${port}: permission denied. Add yourself to the group that owns it (on most Linux systems: sudo usermod -aG dialout $USER), then log in again.`;
  if (/no such file|file not found|ENOENT/i.test(message))
    return `Can't find ${port}. Plug the board in, and the bench connects by itself. Run lidwright ports to see what is plugged in.`;
  if (/inappropriate ioctl|not a tty|not a typewriter/i.test(message))
    return `${port} isn't a serial port. Give another one with --port. Run lidwright ports to see what is plugged in.`;
  if (/baud/i.test(message))
    return `${port} doesn't accept this speed (${forScreen(message)}). Give the board's own speed with --baud.`;
  return `Can't open ${port}: ${forScreen(message)}`;
}
