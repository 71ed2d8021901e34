// Whether the thing behind a path is still the one that was opened: a hung-up port may say nothing for itself.
import { stat } from 'node:fs/promises';

/** What tells one device file from the next at the same path; undefined where the system has no such files. */
export async function identityOf(path: string): Promise<string | undefined> {
  try {
    const { dev, ino, rdev } = await stat(path);
    return `${dev}.${ino}.${rdev}`;
  } catch {
    return undefined;
  }
}
