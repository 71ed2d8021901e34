// The kit's items by name: shown, added, changed, chosen and removed.

import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import { addedItem, changedItem, KIND_WORDS, KINDS, removeItem } from '../../kit/item-file.ts';
import type { FactTexts, KindWord } from '../../kit/kind.ts';
import { type AnyItem, itemsOf, type KitRead } from '../../kit/kit.ts';
import { sameName } from '../../kit/names.ts';
import { changedSettings, type Edited } from '../../kit/settings-file.ts';
import type { Home } from '../../records/home.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { itemNamed, keep, mentionTroubles, openKit, tellTroubles } from './opening.ts';
import { itemJson, itemLine, itemLines } from './words.ts';

const camel = (key: string): string => key.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());

const textArgument = (typed: Typed, at: number): string => String(typed.args[at] ?? '');

/** Facts typed for a kind; a fact of another kind is a complaint. */
function factsTyped(
  typed: Typed,
  word: KindWord,
): { readonly facts: FactTexts; readonly wrong: readonly string[] } {
  const typedKeys = (kind: KindWord) =>
    Object.keys(KINDS[kind].facts).filter((key) => typeof typed.options[camel(key)] === 'string');
  const facts = typedKeys(word).map((key) => [key, String(typed.options[camel(key)])] as const);
  const wrong = KIND_WORDS.filter((kind) => kind !== word).flatMap((kind) =>
    typedKeys(kind).map((key) => `--${key} is a fact of a ${kind}, and this is a ${word}.`),
  );
  return { facts: Object.fromEntries(facts), wrong };
}

/** What an item of this kind cannot do without, and was not typed. */
const factsLeftOut = (word: KindWord, facts: FactTexts): readonly string[] =>
  Object.entries(KINDS[word].facts)
    .filter(([key, { needed }]) => needed && facts[key] === undefined)
    .map(([key, { about, example }]) => {
      const value = example.includes(' ') ? `"${example}"` : example;
      return `A ${word} needs --${key}, such as --${key} ${value}. ${about}`;
    });

function complain(sentences: readonly string[], output: Output): ExitCode {
  for (const sentence of sentences) output.message(sentence);
  output.message('Nothing was changed. `lidwright kit --help` lists what can be done with the kit.');
  return 2;
}

/** Writes what an edit made, or tells why it made nothing. */
function written(edited: Edited, done: string, output: Output): ExitCode {
  if (!edited.ok) {
    tellTroubles(edited.troubles, output);
    output.message('Nothing was changed.');
    return 2;
  }
  if (!keep(edited.path, edited.text, output)) return 3;
  output.data(`${done} (${pathForScreen(edited.path)}).`);
  return 0;
}

export function showItem(typed: Typed, output: Output): ExitCode {
  const { read } = openKit(typed);
  const item = itemNamed(read, textArgument(typed, 0), output);
  if (!item) return 1;
  if (typed.options.json === true) output.data(itemJson(read, item));
  else for (const line of itemLines(read, item)) output.data(line);
  return 0;
}

export function addItem(typed: Typed, output: Output): ExitCode {
  const [given, name] = [textArgument(typed, 0), textArgument(typed, 1)];
  const word = KIND_WORDS.find((kind) => kind === given);
  if (!word)
    return complain(
      [`"${forScreen(given)}" is no kind of equipment; give ${KIND_WORDS.join(', ')}.`],
      output,
    );
  const { facts, wrong } = factsTyped(typed, word);
  if (wrong.length > 0) return complain(wrong, output);
  const leftOut = factsLeftOut(word, facts);
  if (leftOut.length > 0) return complain(leftOut, output);
  const { home, read } = openKit(typed);
  const there = itemsOf(read).find((item) => item.file !== null && sameName(item.facts.name, name));
  if (there)
    return complain(
      [
        `"${there.facts.name}" is in the kit already; \`lidwright kit change\` changes it, or give another name.`,
      ],
      output,
    );
  return written(addedItem(home, word, name, facts), `Added ${word} "${forScreen(name)}"`, output);
}

export function changeItem(typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const item = itemNamed(read, textArgument(typed, 0), output);
  if (!item) return 1;
  const { facts, wrong } = factsTyped(typed, item.kind);
  if (wrong.length > 0) return complain(wrong, output);
  const keys = Object.keys(KINDS[item.kind].facts).map((key) => `--${key}`);
  if (Object.keys(facts).length === 0)
    return complain([`Say what to change: ${keys.join(', ')}; "none" takes a fact out.`], output);
  const cleared = Object.entries(facts).map(([key, text]) => [key, text === 'none' ? '' : text]);
  const edited = changedItem(home, item, Object.fromEntries(cleared));
  return written(edited, `Changed ${item.kind} "${item.facts.name}"`, output);
}

export function removeNamed(typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const item = itemNamed(read, textArgument(typed, 0), output);
  if (!item) return 1;
  const { file } = item;
  if (file === null) {
    output.message(`"${item.facts.name}" has no file: it goes by itself as soon as you add a ${item.kind}.`);
    return 1;
  }
  const aside = removeItem({ file });
  const kept = `Its file is kept as ${pathForScreen(aside)}; rename it back to have it again.`;
  output.data(`Removed ${item.kind} "${item.facts.name}". ${kept}`);
  return unchosen(item, home, read, output);
}

/** A settings file that chose what is gone would be told of at every start. */
function unchosen(item: AnyItem, home: Home, { settings }: KitRead, output: Output): ExitCode {
  const chosen = settings.from[item.kind] === 'file' && sameName(settings.values[item.kind], item.facts.name);
  if (!chosen) return 0;
  const edited = changedSettings(home, item.kind, undefined);
  return written(edited, `The ${item.kind} in use is again the first of the kit`, output);
}

export function chooseItem(typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const item = itemNamed(read, textArgument(typed, 0), output);
  if (!item) return 1;
  const edited = changedSettings(home, item.kind, item.facts.name);
  const code = written(edited, `"${item.facts.name}" is now the ${item.kind} in use`, output);
  if (code === 0) warnOutvoted(item, output);
  return code;
}

/** The file has no say while the environment names another. */
function warnOutvoted(item: AnyItem, output: Output): void {
  const variable = `LIDWRIGHT_${item.kind.toUpperCase()}`;
  const named = process.env[variable];
  if (named && !sameName(named, item.facts.name))
    output.message(
      `${variable} names "${forScreen(named)}", which is stronger than the file; unset it to use this one.`,
    );
}

export function listItems(typed: Typed, output: Output): ExitCode {
  const { read } = openKit(typed);
  for (const item of itemsOf(read))
    output.data(typed.options.json === true ? itemJson(read, item) : itemLine(read, item));
  if (read.feeds.length === 0 && typed.options.json !== true)
    output.message(
      'No feed yet: `lidwright kit calibrate --help` finds what a detent is worth, and keeps it.',
    );
  mentionTroubles(read, output);
  return read.troubles.length > 0 ? 3 : 0;
}
