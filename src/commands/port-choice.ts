// Which port to use when none was named (the one used last, else the only one that can be a board's), and the bench's link to it.
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { forScreen } from '../core/safe-text.ts';
import type { Settings } from '../kit/settings.ts';
import type { Link } from '../link/link.ts';
import { type FoundPort, findPorts, isLikely } from '../link/ports.ts';
import { SerialLink } from '../link/serial-link.ts';
import { type Home, writePrivately } from '../records/home.ts';

export type PortChoice =
  | { readonly kind: 'chosen'; readonly path: string }
  | { readonly kind: 'none'; readonly why: string };

const isOnUsb = (port: FoundPort): boolean => isLikely(port) || port.maker !== undefined;

/**
 * `last` if it is still there; else the only USB port. Without one it is the only port at all, but not for the bench: that
 * opens by itself, and a computer's own serial port seldom has a board on it. Pure.
 */
export function choosePort(found: readonly FoundPort[], last = '', mayBeBuiltIn = true): PortChoice {
  const known = found.filter(({ path, stable }) => path === last || stable === last);
  const onUsb = found.filter(isOnUsb);
  const candidates = known.length > 0 ? known : onUsb.length > 0 || !mayBeBuiltIn ? onUsb : found;
  const [only, second] = candidates;
  if (only && !second) return { kind: 'chosen', path: only.stable ?? only.path };
  if (!only) return { kind: 'none', why: NO_PORTS };
  const names = candidates.map((port) => forScreen(port.path)).join(', ');
  return { kind: 'none', why: `More than one port found (${names}). Choose one with --port.` };
}

export const NO_PORTS =
  'No serial ports found. Plug the board in, or name its port with --port. Without a board, use the virtual bench.';

const lastPortFile = (home: Home): string => join(home.state, 'last-port');

/** The port that the bench opened last; empty where it never did. */
export function lastPort(home: Home): string {
  try {
    return readFileSync(lastPortFile(home), 'utf8').trim().slice(0, 400);
  } catch {
    return '';
  }
}

/** Remembering is a convenience: if the folder can't be written, only that is lost. */
export function rememberPort(home: Home, path: string): void {
  if (path === lastPort(home)) return;
  try {
    mkdirSync(home.state, { recursive: true, mode: 0o700 });
    writePrivately(lastPortFile(home), `${path}\n`);
  } catch {
    return;
  }
}

type PortSettings = Pick<Settings, 'port' | 'baud'>;

function linkTo(home: Home, path: string, baud: number): Link {
  rememberPort(home, path);
  return new SerialLink({ path, baud });
}

function linkAmong(home: Home, found: readonly FoundPort[], baud: number): Link | null {
  const choice = choosePort(found, lastPort(home), false);
  return choice.kind === 'chosen' ? linkTo(home, choice.path, baud) : null;
}

/** The link to open at the start; null with no port, or with several and none of them known. */
export const findLink = async (home: Home, { port, baud }: PortSettings): Promise<Link | null> =>
  port === '' ? linkAmong(home, (await findPorts()).ports, baud) : linkTo(home, port, baud);

/** A board that was plugged in meanwhile; only folders are looked at, since this is asked every few seconds. */
export const seekLink = async (home: Home, { baud }: PortSettings): Promise<Link | null> =>
  linkAmong(home, (await findPorts(async () => [])).ports, baud);
