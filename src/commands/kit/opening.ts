// Where the kit's commands begin: the kit read from the bench's folder, and what is wrong in it told.

import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import type { AnyItem } from '../../kit/kit.ts';
import { itemsOf, type KitRead, readKit } from '../../kit/kit.ts';
import { sameName } from '../../kit/names.ts';
import type { SettingKey } from '../../kit/settings.ts';
import { type KitTrouble, kitTroubleText } from '../../kit/trouble.ts';
import { type Home, homeOf, writePrivately } from '../../records/home.ts';
import type { ExitCode, Output, Typed } from '../command.ts';

export interface Opened {
  readonly home: Home;
  readonly read: KitRead;
}

/** The kit as it stands; of what was typed, only `heeded` are settings. */
export function openKit(typed: Typed, heeded: readonly SettingKey[] = []): Opened {
  const home = homeOf(process.env);
  const flags = Object.fromEntries(heeded.map((key) => [key, typed.options[key]]));
  return { home, read: readKit(home, { flags, env: process.env }) };
}

const FROM_OUTSIDE = new Set(['command line', 'environment']);

/** Tells each trouble; 0 where there is none, 2 where a flag or the environment is at fault, 3 where a file is. */
export function tellTroubles(troubles: readonly KitTrouble[], output: Output): ExitCode {
  for (const trouble of troubles) output.message(kitTroubleText(trouble));
  if (troubles.length === 0) return 0;
  return troubles.some(({ where }) => FROM_OUTSIDE.has(where)) ? 2 : 3;
}

/** Tells what is wrong in the files, and goes on: it is not what was asked. */
export const mentionTroubles = (read: KitRead, output: Output): void =>
  void tellTroubles(read.troubles, output);

/** The item of this name, or null with a sentence that names what there is. */
export function itemNamed(read: KitRead, name: string, output: Output): AnyItem | null {
  const item = itemsOf(read).find(({ facts }) => sameName(facts.name, name));
  if (item) return item;
  const names = itemsOf(read).map(({ facts }) => `"${facts.name}"`);
  output.message(`Nothing in the kit is called "${forScreen(name)}". There are: ${names.join(', ')}.`);
  return null;
}

/** Writes a file of ours; a folder or disk that refuses is told, and leaves what was there. */
export function keep(path: string, text: string, output: Output): boolean {
  try {
    writePrivately(path, text);
    return true;
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    output.message(
      `${pathForScreen(path)} could not be written (${why}). What was there before is kept. See to the folder's permissions and the disk's space.`,
    );
    return false;
  }
}
