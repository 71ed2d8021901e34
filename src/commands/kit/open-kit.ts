// Where the kit's commands begin: the kit read from the turner's files, what is wrong in it, and its files written.
import { forScreen } from '../../core/safe-text.ts';
import { sameName } from '../../kit/item-files.ts';
import { type AnyItem, itemsOf, type KitRead, readKit } from '../../kit/kit.ts';
import type { SettingKey } from '../../kit/settings.ts';
import { type KitTrouble, kitTroubleText } from '../../kit/trouble.ts';
import { type Home, homeOf } from '../../records/home.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { writeTrouble } from '../save-feed.ts';

interface OpenKit {
  readonly home: Home;
  readonly read: KitRead;
}

/** The kit as it stands; of what was typed, only `keys` are settings. */
export function openKit(typed: Typed, keys: readonly SettingKey[] = []): OpenKit {
  const home = homeOf(process.env);
  const flags = Object.fromEntries(keys.map((key) => [key, typed.options[key]]));
  return { home, read: readKit(home, { flags, env: process.env }) };
}

const FROM_OUTSIDE = new Set(['command line', 'environment']);

/** Says each trouble; 0 without any, 2 where a flag or the environment is at fault, 3 where a file is. */
export function sayTroubles(troubles: readonly KitTrouble[], output: Output): ExitCode {
  for (const trouble of troubles) output.message(kitTroubleText(trouble));
  if (troubles.length === 0) return 0;
  return troubles.some(({ where }) => FROM_OUTSIDE.has(where)) ? 2 : 3;
}

/** The item of this name; without one null, after a sentence that lists the names in the kit. */
export function itemNamed(read: KitRead, name: string, output: Output): AnyItem | null {
  const item = itemsOf(read).find(({ facts }) => sameName(facts.name, name));
  if (item) return item;
  const names = itemsOf(read).map(({ facts }) => `"${facts.name}"`);
  output.message(`Nothing in the kit is called "${forScreen(name)}". There are: ${names.join(', ')}.`);
  return null;
}

/** Writes a file of the turner's, or says why it could not be written. */
export function writeOrSay(path: string, text: string, output: Output): boolean {
  const trouble = writeTrouble(path, text);
  if (trouble !== null) output.message(`lidwright: ${trouble}.`);
  return trouble === null;
}
