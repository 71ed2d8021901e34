// Which program holds a file: so that "locked" can say by whom. Linux tells in /proc/locks; elsewhere nobody is named.
import { readFileSync, statSync } from 'node:fs';

const inodeOf = (path: string): number | undefined => statSync(path, { throwIfNoEntry: false })?.ino;

/** Process ids in the text of /proc/locks that hold a lock on one of these inodes (proc(5): "... POSIX ADVISORY WRITE pid major:minor:inode ..."). */
export function holdersIn(locks: string, inodes: ReadonlySet<number>): readonly number[] {
  const held = locks.split('\n').flatMap((line) => {
    const match = /(\d+) [0-9a-f]+:[0-9a-f]+:(\d+) /.exec(line);
    return match && inodes.has(Number(match[2])) ? [Number(match[1])] : [];
  });
  return [...new Set(held)];
}

function nameOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/comm`, 'utf8').trim();
  } catch {
    return 'a program';
  }
}

/** Names and process ids of other programs with a lock on these files, or null when that cannot be told. */
export function holderOf(paths: readonly string[], own: number = process.pid): string | null {
  try {
    const inodes = new Set(paths.map(inodeOf).filter((inode) => inode !== undefined));
    const pids = holdersIn(readFileSync('/proc/locks', 'utf8'), inodes).filter(
      (pid) => pid !== own && pid > 0,
    );
    return pids.length === 0 ? null : pids.map((pid) => `${nameOf(pid)} (process ${pid})`).join(', ');
  } catch {
    return null;
  }
}
