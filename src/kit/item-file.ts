// Adds, changes and takes away one piece of equipment: what is to be written, checked before anything is.
import { existsSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { caliperKind } from './caliper.ts';
import { cutterKind } from './cutter.ts';
import { withKey } from './edit.ts';
import { feedKind } from './feed.ts';
import { textOfFile, tomlFilesIn } from './folder.ts';
import { type FactTexts, fromTable, type Kind, type KindWord, newFile, tomlValueOf } from './kind.ts';
import { type AnyItem, kitFolder } from './kit.ts';
import { freeFileName } from './names.ts';
import type { ConfigHome, Edited } from './settings-file.ts';
import { readToml } from './toml.ts';
import type { Fact } from './value.ts';

export const KINDS: { readonly [word in KindWord]: Kind<{ readonly name: string }> } = {
  caliper: caliperKind,
  cutter: cutterKind,
  feed: feedKind,
};
export const KIND_WORDS: readonly KindWord[] = ['caliper', 'cutter', 'feed'];

/** What a file of this kind would say, or why it would not be accepted. */
function judged(word: KindWord, path: string, text: string): Edited {
  const toml = readToml(text);
  if (!toml.ok)
    return {
      ok: false,
      troubles: [{ kind: 'not-toml', where: path, line: toml.line, column: toml.column, why: toml.why }],
    };
  const found = fromTable(KINDS[word], toml.table, path);
  return found.ok ? { ok: true, path, text } : { ok: false, troubles: found.troubles };
}

/** The file of a new item under a name that is not taken yet. Writes nothing. */
export function addedItem(home: ConfigHome, word: KindWord, name: string, typed: FactTexts): Edited {
  const kind = KINDS[word];
  const folder = join(kitFolder(home), kind.folder);
  const taken = tomlFilesIn(folder);
  if ('kind' in taken) return { ok: false, troubles: [taken] };
  return judged(word, join(folder, freeFileName(name, taken)), newFile(kind, name, typed));
}

/**
 * The item's file with facts changed; an empty text takes a fact out. Its comments stay. What has no file yet, being there
 * by default, gets one. Writes nothing.
 */
export function changedItem(home: ConfigHome, item: AnyItem, typed: FactTexts): Edited {
  if (item.file === null) {
    const whole = Object.entries({ ...item.texts, ...typed }).filter(([, text]) => text !== '');
    return addedItem(home, item.kind, item.facts.name, Object.fromEntries(whole));
  }
  const read = textOfFile(item.file);
  if ('trouble' in read) return { ok: false, troubles: [read.trouble] };
  const facts: Readonly<Record<string, Fact>> = KINDS[item.kind].facts;
  let text: string | undefined = read.text ?? '';
  for (const [key, word] of Object.entries(typed))
    text &&= withKey(text, key, word === '' ? undefined : tomlValueOf(facts[key], word));
  if (text) return judged(item.kind, item.file, text);
  const why = 'this cannot be changed without touching more of the file';
  return {
    ok: false,
    troubles: [
      { kind: 'crossed', where: item.file, why, kept: 'the file is left as it is; edit it by hand' },
    ],
  };
}

/** Takes an item out of the kit: its file is renamed, so that it is no longer read and can be brought back. Gives the new path. */
export function removeItem(item: { readonly file: string }): string {
  const stem = `${item.file}.removed`;
  let aside = stem;
  for (let number = 2; existsSync(aside); number += 1) aside = `${stem}-${number}`;
  renameSync(item.file, aside);
  return aside;
}
