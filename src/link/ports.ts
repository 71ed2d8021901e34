// Which ports there are, also where the system cannot tell, and which of them is most likely the bench's.
import { readdir, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { type ListedPort, listPorts } from './serial.ts';

export interface FoundPort extends ListedPort {
  /** A name that stays when the board is plugged in elsewhere, where the system keeps one. */
  readonly stable?: string;
}

export interface PortFolders {
  readonly devices: string;
  readonly byId: string;
}

const LINUX: PortFolders = { devices: '/dev', byId: '/dev/serial/by-id' };
/** USB serial adapters and boards, as Linux and macOS name them (common practice, no source). */
const USB_NAMES = /^(ttyUSB|ttyACM|cu\.usb|cu\.wchusb|cu\.SLAB)/;

/** True for what is most likely a board: something on USB. */
export const isLikely = (port: FoundPort): boolean =>
  port.stable !== undefined || USB_NAMES.test(port.path.split('/').at(-1) ?? '');

/** USB first, then ports that tell a maker, then the rest; each by name, numbers in their order. */
export function ranked(ports: readonly FoundPort[]): readonly FoundPort[] {
  const rank = (port: FoundPort): number => {
    if (isLikely(port)) return 0;
    return port.maker !== undefined || port.serial !== undefined ? 1 : 2;
  };
  const byName = (a: FoundPort, b: FoundPort): number =>
    a.path.localeCompare(b.path, 'en', { numeric: true });
  return [...ports].sort((a, b) => rank(a) - rank(b) || byName(a, b));
}

/** Every port that can be found, most likely first. Never fails: without udev the device folder itself is read. */
export async function findPorts(
  list: () => Promise<readonly ListedPort[]> = listPorts,
  folders: PortFolders = LINUX,
): Promise<readonly FoundPort[]> {
  const stable = await stableNames(folders.byId);
  const listed = await list().catch(() => []);
  const seen = await devicesIn(folders.devices);
  const known = new Set(listed.map((port) => port.path));
  const all = [...listed, ...seen.filter((path) => !known.has(path)).map((path) => ({ path }))];
  return ranked(all.map((port) => withStable(port, stable.get(port.path))));
}

const withStable = (port: ListedPort, stable: string | undefined): FoundPort =>
  stable === undefined ? port : { ...port, stable };

async function devicesIn(folder: string): Promise<readonly string[]> {
  const names = await readdir(folder).catch(() => []);
  return names.filter((name) => USB_NAMES.test(name)).map((name) => join(folder, name));
}

async function stableNames(folder: string): Promise<ReadonlyMap<string, string>> {
  const names = await readdir(folder).catch(() => []);
  const pairs = await Promise.all(
    names.map(
      async (name) => [await realpath(join(folder, name)).catch(() => ''), join(folder, name)] as const,
    ),
  );
  return new Map(pairs.filter(([device]) => device !== ''));
}
