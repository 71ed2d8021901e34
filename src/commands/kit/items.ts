// The kit's items by name: listed, shown, added, changed, chosen and removed; in words and as JSON.
import { capitalised, forScreen, pathForScreen } from '../../core/safe-text.ts';
import { type FactTexts, factsOf, KIND_WORDS, KINDS, type KindWord } from '../../kit/equipment.ts';
import {
  type AnyItem,
  addedItem,
  changedItem,
  itemsOf,
  type KitRead,
  removeItem,
  sameName,
} from '../../kit/kit.ts';
import { changedSettings } from '../../kit/setting-sources.ts';
import { flagOf, variableOf } from '../../kit/settings.ts';
import type { Edited } from '../../kit/toml.ts';
import type { Home } from '../../records/home.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { answer, endWith } from '../output.ts';
import { openKit, sayTroubles, writeOrSay } from './kit-files.ts';

const isInUse = (read: KitRead, item: AnyItem): boolean =>
  [read.calipers[0], read.cutters[0], read.feeds[0]].includes(item);

const heading = (read: KitRead, item: AnyItem): string =>
  `${item.kind} "${item.facts.name}"${isInUse(read, item) ? ', in use' : ''}`;

/** One line: `cutter "vee 60", in use: angle 60deg, tip sharp`. */
function itemLine(read: KitRead, item: AnyItem): string {
  const facts = Object.entries(item.texts).map(([key, text]) => `${key.replaceAll('-', ' ')} ${text}`);
  return `${heading(read, item)}${item.file === null ? ', built in' : ''}: ${facts.join(', ')}`;
}

/** Every fact on its own line with what it is, and the file that says so. */
const itemLines = (read: KitRead, item: AnyItem): readonly string[] => [
  heading(read, item),
  ...factsOf(KINDS[item.kind]).map(
    ({ key, about }) => `  ${key.padEnd(20)} ${(item.texts[key] ?? '-').padEnd(14)} ${about}`,
  ),
  `  ${item.file === null ? 'built in, until you add one' : pathForScreen(item.file)}`,
];

/** One object a line, lengths in millimetres; `file` is null for what is built in. */
function itemJson(read: KitRead, item: AnyItem): object {
  const values = new Map<string, unknown>(Object.entries(item.facts));
  const facts = factsOf(KINDS[item.kind]).map(({ name, of }) => {
    const value = values.get(name) ?? null;
    return [name + (of.suffix ?? ''), value === null || !of.json ? value : of.json(value)];
  });
  const { kind, file } = item;
  const head = { kind, v: 1, name: item.facts.name, inUse: isInUse(read, item), file };
  return { ...head, ...Object.fromEntries(facts) };
}

/** Facts typed for a kind by key of its file; a fact of another kind is wrong. */
function factsTyped(
  { options }: Typed,
  word: KindWord,
): { readonly facts: FactTexts; readonly wrong: readonly string[] } {
  const typed = (kind: KindWord) =>
    factsOf(KINDS[kind]).flatMap(({ name, key }) => {
      const { [name]: text } = options;
      return typeof text === 'string' ? [[key, text] as const] : [];
    });
  const wrong = KIND_WORDS.filter((kind) => kind !== word).flatMap((kind) =>
    typed(kind).map(([key]) => `--${key} belongs to a ${kind}, and this is a ${word}.`),
  );
  return { facts: Object.fromEntries(typed(word)), wrong };
}

/** What an item of this kind needs, and was not typed. */
const missingFacts = (word: KindWord, facts: FactTexts): readonly string[] =>
  factsOf(KINDS[word])
    .filter(({ key, needed }) => needed && facts[key] === undefined)
    .map(({ key, about, example }) => {
      const value = example.includes(' ') ? `"${example}"` : example;
      return `A ${word} needs --${key}, such as --${key} ${value}. ${capitalised(about)}.`;
    });

const wrongUseOfKit = (output: Output, ...sentences: readonly string[]): ExitCode =>
  endWith(
    output,
    2,
    ...sentences,
    'Nothing was changed. `lidwright kit --help` shows what you can do with the kit.',
  );

/** Writes what an edit made, or says why it made nothing. */
function written(edited: Edited, done: string, output: Output): ExitCode {
  if (edited.ok)
    return writeOrSay(edited.path, edited.text, `${done} (${pathForScreen(edited.path)}).`, output);
  sayTroubles(edited.troubles, output);
  return endWith(output, 2, 'Nothing was changed.');
}

/** Goes on with the item that was named first; without one it ends with a sentence that lists the names in the kit. */
function withItem(
  typed: Typed,
  output: Output,
  then: (item: AnyItem, home: Home, read: KitRead) => ExitCode,
): ExitCode {
  const { home, read } = openKit(typed);
  const name = String(typed.args[0] ?? '');
  const item = itemsOf(read).find(({ facts }) => sameName(facts.name, name));
  if (item) return then(item, home, read);
  const names = itemsOf(read).map(({ facts }) => `"${facts.name}"`);
  const unknown = `Nothing in the kit is called "${forScreen(name)}". The kit has ${names.join(', ')}.`;
  return endWith(output, 1, unknown);
}

export const showItem = (typed: Typed, output: Output): ExitCode =>
  withItem(typed, output, (item, _, read) =>
    answer(typed, output, itemJson(read, item), itemLines(read, item)),
  );

export function addItem(typed: Typed, output: Output): ExitCode {
  const [given, name] = [String(typed.args[0] ?? ''), String(typed.args[1] ?? '')];
  const word = KIND_WORDS.find((kind) => kind === given);
  if (!word) throw new TypeError(`the parser lets no other kind through: ${given}`);
  const { facts, wrong } = factsTyped(typed, word);
  const errors = wrong.length > 0 ? wrong : missingFacts(word, facts);
  if (errors.length > 0) return wrongUseOfKit(output, ...errors);
  const { home, read } = openKit(typed);
  const there = itemsOf(read).find((item) => item.file !== null && sameName(item.facts.name, name));
  if (there)
    return wrongUseOfKit(
      output,
      `"${there.facts.name}" is already in the kit. Change it with \`lidwright kit change\`, or give another name.`,
    );
  return written(addedItem(home, word, name, facts), `Added ${word} "${forScreen(name)}"`, output);
}

export const changeItem = (typed: Typed, output: Output): ExitCode =>
  withItem(typed, output, (item, home) => {
    const { facts, wrong } = factsTyped(typed, item.kind);
    if (wrong.length > 0) return wrongUseOfKit(output, ...wrong);
    const flags = factsOf(KINDS[item.kind]).map(({ name }) => flagOf(name));
    if (Object.keys(facts).length === 0)
      return wrongUseOfKit(output, `Give what to change: ${flags.join(', ')}. "none" removes a fact.`);
    const cleared = Object.entries(facts).map(([key, text]) => [key, text === 'none' ? '' : text]);
    const edited = changedItem(home, item, Object.fromEntries(cleared));
    return written(edited, `Changed ${item.kind} "${item.facts.name}"`, output);
  });

export const removeNamed = (typed: Typed, output: Output): ExitCode =>
  withItem(typed, output, (item, home, { settings }) => {
    const { kind, file, facts } = item;
    if (file === null)
      return endWith(output, 1, `"${facts.name}" is built in. It goes as soon as you add a ${kind}.`);
    const kept = `Its file is now ${pathForScreen(removeItem({ file }))}. Rename it back to restore it.`;
    output.data(`Removed ${kind} "${facts.name}". ${kept}`);
    // A settings file that chooses a removed item would be reported at every start.
    if (settings.from[kind] !== 'file' || !sameName(settings.values[kind], facts.name)) return 0;
    const edited = changedSettings(home, kind, undefined);
    return written(edited, `The ${kind} in use is now the first in the kit`, output);
  });

export const chooseItem = (typed: Typed, output: Output): ExitCode =>
  withItem(typed, output, ({ kind, facts }, home) => {
    const edited = changedSettings(home, kind, facts.name);
    const code = written(edited, `"${facts.name}" is now the ${kind} in use`, output);
    const variable = variableOf(kind);
    const named = process.env[variable];
    if (code !== 0 || !named || sameName(named, facts.name)) return code;
    const instead = `${variable} is set to "${forScreen(named)}" and overrides the file. Unset it to use this one.`;
    return endWith(output, 0, instead);
  });

export function listItems(typed: Typed, output: Output): ExitCode {
  const { read } = openKit(typed);
  for (const item of itemsOf(read)) answer(typed, output, itemJson(read, item), [itemLine(read, item)]);
  if (read.feeds.length === 0 && typed.options.json !== true)
    output.message(
      'No feed yet. `lidwright kit calibrate --help` shows how to find what a detent is worth and save it.',
    );
  sayTroubles(read.troubles, output);
  return read.troubles.length > 0 ? 3 : 0;
}
