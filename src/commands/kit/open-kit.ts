// Where the kit's commands begin: the kit read from the turner's files, what is wrong in it, and its files written.
import { forScreen } from '../../core/safe-text.ts';
import { type AnyItem, itemsOf, type KitRead, readKit, sameName } from '../../kit/kit.ts';
import type { SettingKey } from '../../kit/settings.ts';
import { type KitTrouble, kitTroubleText } from '../../kit/trouble.ts';
import { type Home, homeOf } from '../../records/home.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { flagsAmong } from '../options.ts';
import { endWith } from '../output.ts';
import { writeTrouble } from '../save-feed.ts';

/** The kit as it is now; of the flags typed, only `keys` are settings. */
export function openKit(
  typed: Typed,
  keys: readonly SettingKey[] = [],
): { readonly home: Home; readonly read: KitRead } {
  const home = homeOf(process.env);
  return { home, read: readKit(home, { flags: flagsAmong(typed, keys), env: process.env }) };
}

const FROM_OUTSIDE = new Set(['command line', 'environment']);

/** Says each trouble; 0 without any, 2 where a flag or the environment is at fault, 3 where a file is. */
export function sayTroubles(troubles: readonly KitTrouble[], output: Output): ExitCode {
  const outside = troubles.some(({ where }) => FROM_OUTSIDE.has(where));
  return endWith(output, troubles.length === 0 ? 0 : outside ? 2 : 3, ...troubles.map(kitTroubleText));
}

/** Goes on with the item that was named first; without one it ends with a sentence that lists the names in the kit. */
export function withItem(
  typed: Typed,
  output: Output,
  then: (item: AnyItem, home: Home, read: KitRead) => ExitCode,
): ExitCode {
  const { home, read } = openKit(typed);
  const name = String(typed.args[0] ?? '');
  const item = itemsOf(read).find(({ facts }) => sameName(facts.name, name));
  if (item) return then(item, home, read);
  const names = itemsOf(read).map(({ facts }) => `"${facts.name}"`);
  return endWith(
    output,
    1,
    `Nothing in the kit is called "${forScreen(name)}". The kit has ${names.join(', ')}.`,
  );
}

/** Writes a file of the turner's and says so, or why it could not be written. */
export function writeOrSay(path: string, text: string, done: string, output: Output): ExitCode {
  const trouble = writeTrouble(path, text);
  if (trouble !== null) return endWith(output, 3, `lidwright: ${trouble}.`);
  output.data(done);
  return 0;
}
