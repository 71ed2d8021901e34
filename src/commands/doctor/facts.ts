// The facts that the doctor judges, gathered from the system: permissions, groups, free space, times. Nothing is changed.
import { accessSync, constants, existsSync, readFileSync, statfsSync, statSync } from 'node:fs';
import { userInfo } from 'node:os';
import { dirname } from 'node:path';
import type { Access } from './port.ts';

/** The folder itself, or the nearest above it that is there. */
export function nearestFolder(path: string): string {
  let folder = path;
  while (!existsSync(folder) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

export function may(path: string, mode: number): boolean {
  try {
    accessSync(path, mode);
    return true;
  } catch {
    return false;
  }
}

/** Free bytes for this user; undefined where the system does not say. */
export function freeBytes(folder: string): number | undefined {
  try {
    const { bavail, bsize } = statfsSync(folder);
    return bavail * bsize;
  } catch {
    return undefined;
  }
}

/** Lines of the group file: name, password, id, members (group(5)). */
interface Group {
  readonly name: string;
  readonly members: readonly string[];
}

/** The group of this id in the text of a group file. */
export function groupIn(text: string, id: number): Group | undefined {
  const fields = text.split('\n').map((line) => line.split(':'));
  const found = fields.find(([, , gid]) => gid === String(id));
  return (
    found && { name: found[0] ?? '', members: (found[3] ?? '').split(',').filter((name) => name !== '') }
  );
}

function groupFile(): string {
  try {
    return readFileSync('/etc/group', 'utf8');
  } catch {
    return '';
  }
}

const GROUP_MAY = 0o060;

/** Whether the port may be opened, and by which group; null where there is no such device. */
export function accessTo(path: string): Access | null {
  const device = statSync(path, { throwIfNoEntry: false });
  if (!device) return null;
  const group = groupIn(groupFile(), device.gid);
  return {
    path,
    mayOpen: may(path, constants.R_OK | constants.W_OK),
    group: { name: group?.name ?? String(device.gid), allowed: (device.mode & GROUP_MAY) === GROUP_MAY },
    listed: group?.members.includes(userInfo().username) ?? false,
    joined: process.getgroups?.().includes(device.gid) ?? false,
  };
}

/** The newest of these files, by the time it was last written. */
export function newestOf(files: readonly { readonly what: string; readonly path: string }[]) {
  const times = files.map(({ what, path }) => ({
    what,
    at: statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0,
  }));
  return times.reduce((newest, each) => (each.at > newest.at ? each : newest), {
    what: 'this program',
    at: 0,
  });
}
