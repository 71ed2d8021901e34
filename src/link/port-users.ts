// Why a port would not open, in words that say what to do, and which programs have it open where /proc tells.
import { readdir, readFile, readlink, realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { forScreen } from '../core/safe-text.ts';

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

/** Why opening `path` failed, for the turner, with the programs that use it where they can be seen. */
export async function openFailure(path: string, cause: unknown): Promise<string> {
  const message = cause instanceof Error ? cause.message : String(cause);
  return openFailureText(path, message, isInUse(message) ? await portUsers(path) : []);
}

/** True where another program has the port open: then it is worth finding out which. */
export const isInUse = (message: string): boolean => /cannot lock|access denied|resource busy/i.test(message);

/**
 * A sentence for the turner from the system's own message. `users` names programs that have the port open, where they
 * can be seen.
 */
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
