// Which port the bench opens: the one given, else the one used last, else the only one there.
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Settings } from '../../kit/settings.ts';
import type { Link } from '../../link/link.ts';
import { type FoundPort, findPorts } from '../../link/ports.ts';
import { createSerialLink } from '../../link/serial-link.ts';
import { type Home, writePrivately } from '../../records/home.ts';

const lastPortFile = (home: Home): string => join(home.state, 'last-port');

function lastPort(home: Home): string {
  try {
    return readFileSync(lastPortFile(home), 'utf8').trim().slice(0, 400);
  } catch {
    return '';
  }
}

/** Remembering is a convenience: a folder that cannot be written costs only that. */
function remember(home: Home, path: string): void {
  if (path === lastPort(home)) return;
  try {
    mkdirSync(home.state, { recursive: true, mode: 0o700 });
    writePrivately(lastPortFile(home), `${path}\n`);
  } catch {
    return;
  }
}

function linkTo(home: Home, path: string, baud: number): Link {
  remember(home, path);
  return createSerialLink({ path, baud });
}

type PortSettings = Pick<Settings, 'port' | 'baud'>;

function chosenOf(home: Home, ports: readonly FoundPort[]): FoundPort | undefined {
  const last = lastPort(home);
  const known = ports.find(({ path, stable }) => path === last || stable === last);
  const usb = ports.filter(({ stable, maker }) => stable !== undefined || maker !== undefined);
  return known ?? (usb.length === 1 ? usb[0] : undefined);
}

/** The link to open at the start; null with no port, or with several and none of them known. */
export async function findLink(home: Home, { port, baud }: PortSettings): Promise<Link | null> {
  if (port !== '') return linkTo(home, port, baud);
  const chosen = chosenOf(home, (await findPorts()).ports);
  return chosen ? linkTo(home, chosen.stable ?? chosen.path, baud) : null;
}

/** A board that was plugged in meanwhile; only folders are looked at, since this is asked every few seconds. */
export async function seekLink(home: Home, { baud }: PortSettings): Promise<Link | null> {
  const chosen = chosenOf(home, (await findPorts(async () => [])).ports);
  return chosen ? linkTo(home, chosen.stable ?? chosen.path, baud) : null;
}
