// Where the program keeps its files: in one folder if you name one, else in the XDG folders; readable by their owner alone.
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join, resolve } from 'node:path';

/** The folders of one bench. With `LIDWRIGHT_HOME` or `--home` all of them are that folder. */
export interface Home {
  /** Jobs and readings. */
  readonly data: string;
  /** Settings and kit, written by hand too. */
  readonly config: string;
  /** What does no harm when lost: the port used last. */
  readonly state: string;
  readonly database: string;
}

const NAME = 'lidwright';

/** An XDG folder: the variable when it is an absolute path, as the XDG Base Directory Specification 0.8 asks (from memory), else its default. */
const xdg = (given: string | undefined, user: string, ...rest: readonly string[]): string =>
  given !== undefined && isAbsolute(given) ? join(given, NAME) : join(user, ...rest, NAME);

const homeIn = (data: string, config: string, state: string): Home => ({
  data,
  config,
  state,
  database: join(data, 'jobs.db'),
});

/**
 * The bench's folders.
 * @param env the environment: `LIDWRIGHT_HOME`, `XDG_DATA_HOME`, `XDG_CONFIG_HOME`, `XDG_STATE_HOME`
 * @param given a folder from the command line, which wins
 * @param user the user's home folder
 */
export function homeOf(
  env: Readonly<Record<string, string | undefined>>,
  given?: string,
  user: string = homedir(),
): Home {
  const one = given || env.LIDWRIGHT_HOME;
  if (one) {
    const folder = resolve(one);
    return homeIn(folder, folder, folder);
  }
  return homeIn(
    xdg(env.XDG_DATA_HOME, user, '.local', 'share'),
    xdg(env.XDG_CONFIG_HOME, user, '.config'),
    xdg(env.XDG_STATE_HOME, user, '.local', 'state'),
  );
}

/**
 * Makes a folder (and those above it) that only its owner may enter; one that exists is left as it is. One by one: asked for
 * all of them at once, Node 20 never comes back from a place such as /proc that has no room for folders.
 */
export function makePrivateFolder(path: string): void {
  if (existsSync(path)) return;
  const above = dirname(path);
  if (above !== path) makePrivateFolder(above);
  try {
    mkdirSync(path, { mode: 0o700 });
  } catch (error) {
    if (!existsSync(path)) throw error;
  }
}

/** Makes an empty file that only its owner may read; one that exists is left as it is. */
export const makePrivateFile = (path: string): void => closeSync(openSync(path, 'a', 0o600));

/** Writes a file that is not there yet, whole and flushed to the disk, readable by its owner alone; else leaves nothing behind. */
export function writeNewFile(path: string, text: string): void {
  const file = openSync(path, 'wx', 0o600);
  try {
    writeFileSync(file, text);
    fsyncSync(file);
  } catch (error) {
    rmSync(path, { force: true });
    throw error;
  } finally {
    closeSync(file);
  }
}

/** Writes a whole file so that a full disk or a power cut leaves the old one or the new one, readable by its owner alone. */
export function writePrivately(path: string, text: string): void {
  makePrivateFolder(dirname(path));
  const beside = `${path}.${process.pid}.new`;
  rmSync(beside, { force: true });
  writeNewFile(beside, text);
  try {
    renameSync(beside, path);
  } catch (error) {
    rmSync(beside, { force: true });
    throw error;
  }
}
