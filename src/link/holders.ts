// Which programs have a port open, so that a refusal can name them. Only where /proc tells; elsewhere nobody is named.
import { readdir, readFile, readlink, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { forScreen } from '../core/safe-text.ts';
import { isHeldElsewhere, refusalOf } from './refusal.ts';

/** Programs that hold `path` open, as `name (process 123)`; empty where the system does not say. */
export async function holdersOf(path: string, proc = '/proc'): Promise<readonly string[]> {
  try {
    const device = await realpath(path);
    const processes = (await readdir(proc)).filter((name) => /^\d+$/.test(name));
    const found = await Promise.all(processes.map((pid) => holder(proc, pid, device)));
    return found.filter((name) => name !== undefined);
  } catch {
    return [];
  }
}

async function holder(proc: string, pid: string, device: string): Promise<string | undefined> {
  try {
    const open = join(proc, pid, 'fd');
    for (const fd of await readdir(open)) {
      if ((await readlink(join(open, fd)).catch(() => '')) !== device) continue;
      const name = (await readFile(join(proc, pid, 'comm'), 'utf8')).trim();
      return `${forScreen(name, 24)} (process ${pid})`;
    }
  } catch {
    // A process that ended meanwhile, or one of another user's: not ours to name.
  }
  return undefined;
}

/** Why opening `path` failed, in words for the turner, with the holder named where there is one. */
export async function explained(path: string, cause: unknown): Promise<string> {
  const message = cause instanceof Error ? cause.message : String(cause);
  return refusalOf(path, message, isHeldElsewhere(message) ? await holdersOf(path) : []);
}
