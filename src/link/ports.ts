// Which serial ports there are, also where the system has no list of them, and which is most likely the bench's board.
import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { type ListedPort, listPorts } from './serial.ts';

export interface FoundPort extends ListedPort {
  /** A name that stays when the board is plugged in elsewhere, where the system keeps one. */
  readonly stable?: string | undefined;
}

export interface PortsFound {
  /** Most likely first. */
  readonly ports: readonly FoundPort[];
  /** Why the system's own list could not be had; only device files were then looked at. */
  readonly unlisted: string | undefined;
}

/** Where Linux keeps its device files, their stable names, and what it knows about each terminal device. */
interface PortFolders {
  readonly devices: string;
  readonly byId: string;
  readonly terminals: string;
}

const LINUX: PortFolders = { devices: '/dev', byId: '/dev/serial/by-id', terminals: '/sys/class/tty' };
/** USB serial adapters and boards, as Linux and macOS name them (common practice, no source). */
const USB_NAMES = /^(ttyUSB|ttyACM|cu\.usb|cu\.wchusb|cu\.SLAB)/;

/** True for what is most likely a board: something on USB. */
export const isLikely = (port: FoundPort): boolean =>
  port.stable !== undefined || USB_NAMES.test(port.path.split('/').at(-1) ?? '');

/** USB first, then ports that name a maker, then the rest; each by name, numbers in their order. */
export function ranked(ports: readonly FoundPort[]): readonly FoundPort[] {
  const rank = (port: FoundPort): number => {
    if (isLikely(port)) return 0;
    return port.maker !== undefined || port.serial !== undefined ? 1 : 2;
  };
  const byName = (a: FoundPort, b: FoundPort): number =>
    a.path.localeCompare(b.path, 'en', { numeric: true });
  return [...ports].sort((a, b) => rank(a) - rank(b) || byName(a, b));
}

/** Every port that can be found. Never fails: without the system's own list it searches the device files. */
export async function findPorts(
  list: () => Promise<readonly ListedPort[]> = listPorts,
  folders: PortFolders = LINUX,
): Promise<PortsFound> {
  const stable = await stableNames(folders.byId);
  const listed = await list().catch((cause: Error) => cause);
  const all = new Map((await portsOnDisk(folders)).map((port) => [port.path, port]));
  if (!(listed instanceof Error))
    for (const port of listed) all.set(port.path, { ...all.get(port.path), ...port });
  return {
    ports: ranked([...all.values()].map((port) => ({ ...port, stable: stable.get(port.path) }))),
    unlisted: listed instanceof Error ? listed.message : undefined,
  };
}

/** Tells one device file from the next at the same path; undefined where the file is missing. */
export async function deviceIdentity(path: string): Promise<string | undefined> {
  try {
    const { dev, ino, rdev } = await stat(path);
    return `${dev}.${ino}.${rdev}`;
  } catch {
    return undefined;
  }
}

const namesIn = (folder: string): Promise<readonly string[]> => readdir(folder).catch(() => []);
const textOf = async (file: string): Promise<string | undefined> =>
  (await readFile(file, 'utf8').catch(() => undefined))?.trim();

/** Device files with a USB name, and terminal devices with hardware behind them. */
async function portsOnDisk({ devices, terminals }: PortFolders): Promise<readonly ListedPort[]> {
  const usb = (await namesIn(devices)).filter((name) => USB_NAMES.test(name));
  const driven = await Promise.all(
    (await namesIn(terminals)).map(async (name) => ((await isDriven(join(terminals, name))) ? [name] : [])),
  );
  const names = [...new Set([...usb, ...driven.flat()])];
  const ports = await Promise.all(
    names.map(async (name) => {
      const path = join(devices, name);
      if ((await deviceIdentity(path)) === undefined) return [];
      return [{ path, ...(await usbFacts(join(terminals, name, 'device'))) }];
    }),
  );
  return ports.flat();
}

/** True where a driver serves the terminal: a console has none, and a serial port without a chip is of type 0 (Linux, sysfs-tty; from memory). */
async function isDriven(terminal: string): Promise<boolean> {
  const driver = await realpath(join(terminal, 'device', 'driver')).catch(() => undefined);
  return driver !== undefined && (await textOf(join(terminal, 'type'))) !== '0';
}

/** The maker and serial number that a USB device states, a folder or two above its terminal's. */
async function usbFacts(device: string): Promise<Omit<ListedPort, 'path'>> {
  let folder = await realpath(device).catch(() => '/');
  for (let up = 0; up < 4 && folder !== '/'; up++, folder = dirname(folder)) {
    if ((await textOf(join(folder, 'idVendor'))) === undefined) continue;
    return {
      maker: await textOf(join(folder, 'manufacturer')),
      serial: await textOf(join(folder, 'serial')),
    };
  }
  return {};
}

async function stableNames(folder: string): Promise<ReadonlyMap<string, string>> {
  const pairs = await Promise.all(
    (await namesIn(folder)).map(
      async (name) => [await realpath(join(folder, name)).catch(() => ''), join(folder, name)] as const,
    ),
  );
  return new Map(pairs.filter(([device]) => device !== ''));
}
