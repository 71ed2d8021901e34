// The port that the bench opens: the one given, else the one that is chosen among those there.
import type { Settings } from '../../kit/settings.ts';
import type { Link } from '../../link/link.ts';
import { type FoundPort, findPorts } from '../../link/ports.ts';
import { createSerialLink } from '../../link/serial-link.ts';
import type { Home } from '../../records/home.ts';
import { choosePort, lastPort, rememberPort } from '../port-choice.ts';

type PortSettings = Pick<Settings, 'port' | 'baud'>;

function linkTo(home: Home, path: string, baud: number): Link {
  rememberPort(home, path);
  return createSerialLink({ path, baud });
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
