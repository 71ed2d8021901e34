// The kit as a command opens it: read from the turner's files, what is wrong in it, and its files written; a calibrated feed among them.
import type { FeedFound } from '../../core/bench/calibration/model.ts';
import { pitchText } from '../../core/bench/typed-quantity.ts';
import { pathForScreen } from '../../core/safe-text.ts';
import type { FactTexts } from '../../kit/equipment.ts';
import { addedItem, changedItem, itemsOf, type KitRead, readKit, sameName } from '../../kit/kit.ts';
import { itemsIn } from '../../kit/quantities.ts';
import type { SettingKey } from '../../kit/settings.ts';
import { type KitTrouble, kitTroubleText } from '../../kit/trouble.ts';
import { type Home, homeOf, writePrivately } from '../../records/home.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { flagsAmong } from '../options.ts';
import { endWith } from '../output.ts';

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

/** Writes a file of the turner's; null, or why it could not be written, without a full stop. */
function writeTrouble(path: string, text: string): string | null {
  try {
    writePrivately(path, text);
    return null;
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    return `can't write ${pathForScreen(path)} (${why}). What was there before is unchanged. Check the folder's permissions and the disk's free space`;
  }
}

/** Writes a file of the turner's and says so, or why it could not be written. */
export function writeOrSay(path: string, text: string, done: string, output: Output): ExitCode {
  const trouble = writeTrouble(path, text);
  if (trouble !== null) return endWith(output, 3, `lidwright: ${trouble}.`);
  output.data(done);
  return 0;
}

const exact = (value: number, figures: number): string => `${Number(value.toPrecision(figures))}mm`;

/** The list of proven detents with this one added, in place of an older one at the same pitch. */
function provenText(before = '', { pitch, detents }: NonNullable<FeedFound['proven']>): string {
  const at = ` at ${pitchText(pitch)}`;
  const others = itemsIn(before).filter((each) => !each.endsWith(at));
  return [...others, `${detents}${at}`].join(', ');
}

/** Rounded down, since nothing is known better than it is; endless is written as a thousand, which is as good. */
const freedomText = (freedom: number): string =>
  String(Math.min(1000, Math.max(1, Math.floor(freedom * 10) / 10)));

/** A calibrated feed saved into the kit, from the bench or the command line: a new item, or the one of that name changed; or why not. */
export function saveFeed(
  home: Home,
  read: KitRead,
  feed: FeedFound,
): { readonly path: string } | { readonly trouble: string } {
  const there = itemsOf(read).find(({ facts }) => sameName(facts.name, feed.name));
  if (there && there.kind !== 'feed')
    return { trouble: `"${there.facts.name}" is already a ${there.kind}. Give the feed another name` };
  const facts: FactTexts = {
    'per-detent': exact(feed.perDetent, 9),
    'per-detent-standard': exact(feed.standard, 3),
    'per-detent-freedom': freedomText(feed.freedom),
    ...(feed.proven ? { proven: provenText(there?.texts.proven, feed.proven) } : {}),
  };
  const edited = there ? changedItem(home, there, facts) : addedItem(home, 'feed', feed.name, facts);
  if (!edited.ok) return { trouble: edited.troubles.map(kitTroubleText).join(' ').replace(/\.$/, '') };
  const trouble = writeTrouble(edited.path, edited.text);
  return trouble === null ? { path: edited.path } : { trouble };
}
