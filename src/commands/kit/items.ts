// The kit's items by name: listed, shown, added, changed, chosen and removed; in words and as JSON.
import type { Cutter } from '../../core/bench/setup.ts';
import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import type { Tip } from '../../core/thread/form.ts';
import { inDegrees } from '../../core/units.ts';
import {
  type Caliper,
  type FactTexts,
  type Feed,
  KIND_WORDS,
  KINDS,
  type KindWord,
} from '../../kit/equipment.ts';
import {
  addedItem,
  changedItem,
  type Edited,
  type Item,
  removeItem,
  sameName,
} from '../../kit/item-files.ts';
import { type AnyItem, itemsOf, type KitRead } from '../../kit/kit.ts';
import { changedSettings } from '../../kit/settings-file.ts';
import type { Home } from '../../records/home.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { itemNamed, openKit, sayTroubles, writeOrSay } from './open-kit.ts';

const JSON_VERSION = 1;

const isInUse = (read: KitRead, item: AnyItem): boolean =>
  [read.calipers[0], read.cutters[0], read.feeds[0]].includes(item);

const factsLine = (item: AnyItem): string =>
  Object.entries(item.texts)
    .map(([key, text]) => `${key.replaceAll('-', ' ')} ${text}`)
    .join(', ');

/** One line: `cutter "vee 60", in use: angle 60deg, tip sharp`. */
function itemLine(read: KitRead, item: AnyItem): string {
  const use = isInUse(read, item) ? ', in use' : '';
  const plain = item.file === null ? ', built in' : '';
  return `${item.kind} "${item.facts.name}"${use}${plain}: ${factsLine(item)}`;
}

/** Every fact on its own line with what it is, and the file that says so. */
function itemLines(read: KitRead, item: AnyItem): readonly string[] {
  const facts = Object.entries(KINDS[item.kind].keys).map(
    ([key, { about }]) => `  ${key.padEnd(20)} ${(item.texts[key] ?? '-').padEnd(14)} ${about}`,
  );
  const where = item.file === null ? 'built in, until you add one' : pathForScreen(item.file);
  return [
    `${item.kind} "${item.facts.name}"${isInUse(read, item) ? ', in use' : ''}`,
    ...facts,
    `  ${where}`,
  ];
}

function tipJson(tip: Tip): Readonly<Record<string, unknown>> {
  switch (tip.kind) {
    case 'sharp':
      return { kind: 'sharp' };
    case 'flat':
      return { kind: 'flat', widthMm: tip.width };
    case 'radius':
      return { kind: 'radius', radiusMm: tip.radius };
    default:
      return tip satisfies never;
  }
}

const caliperJson = ({ facts }: Item<Caliper>) => ({
  stepMm: facts.step,
  limitOfErrorMm: facts.limitOfError,
  jawLandMm: facts.jawLand ?? null,
  unit: facts.unit,
});

const cutterJson = ({ facts }: Item<Cutter>) => ({
  angleDeg: Number(inDegrees(facts.angle).toFixed(9)),
  tip: tipJson(facts.tip),
  diameterMm: facts.diameter ?? null,
  topSpeed: facts.topSpeed ?? null,
});

const feedJson = ({ facts }: Item<Feed>) => ({
  perDetentMm: facts.perDetent,
  perDetentStandardMm: facts.perDetentStandard,
  lostDetents: facts.lostDetents,
  deeper: facts.deeper,
  proven: facts.proven.map(({ detents, pitch }) => ({ detents, pitchMm: pitch.length })),
});

const factsJson = (read: KitRead, item: AnyItem): Readonly<Record<string, unknown>> => {
  const [caliper, cutter, feed] = [
    read.calipers.find((each) => each === item),
    read.cutters.find((each) => each === item),
    read.feeds.find((each) => each === item),
  ];
  if (caliper) return caliperJson(caliper);
  if (cutter) return cutterJson(cutter);
  return feed ? feedJson(feed) : {};
};

/** One object a line, lengths in millimetres; `file` is null for what is built in. */
const itemJson = (read: KitRead, item: AnyItem): string =>
  JSON.stringify({
    kind: item.kind,
    v: JSON_VERSION,
    name: item.facts.name,
    inUse: isInUse(read, item),
    file: item.file,
    ...factsJson(read, item),
  });

const camel = (key: string): string => key.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());

const textArgument = (typed: Typed, at: number): string => String(typed.args[at] ?? '');

/** Facts typed for a kind; a fact of another kind is wrong. */
function factsTyped(
  typed: Typed,
  word: KindWord,
): { readonly facts: FactTexts; readonly wrong: readonly string[] } {
  const typedKeys = (kind: KindWord) =>
    Object.keys(KINDS[kind].keys).filter((key) => typeof typed.options[camel(key)] === 'string');
  const facts = typedKeys(word).map((key) => [key, String(typed.options[camel(key)])] as const);
  const wrong = KIND_WORDS.filter((kind) => kind !== word).flatMap((kind) =>
    typedKeys(kind).map((key) => `--${key} belongs to a ${kind}, and this is a ${word}.`),
  );
  return { facts: Object.fromEntries(facts), wrong };
}

/** What an item of this kind needs, and was not typed. */
const missingFacts = (word: KindWord, facts: FactTexts): readonly string[] =>
  Object.entries(KINDS[word].keys)
    .filter(([key, { needed }]) => needed && facts[key] === undefined)
    .map(([key, { about, example }]) => {
      const value = example.includes(' ') ? `"${example}"` : example;
      return `A ${word} needs --${key}, such as --${key} ${value}. ${about}`;
    });

function refuse(sentences: readonly string[], output: Output): ExitCode {
  for (const sentence of sentences) output.message(sentence);
  output.message('Nothing was changed. `lidwright kit --help` shows what you can do with the kit.');
  return 2;
}

/** Writes what an edit made, or says why it made nothing. */
function written(edited: Edited, done: string, output: Output): ExitCode {
  if (!edited.ok) {
    sayTroubles(edited.troubles, output);
    output.message('Nothing was changed.');
    return 2;
  }
  if (!writeOrSay(edited.path, edited.text, output)) return 3;
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
    return refuse(
      [`"${forScreen(given)}" isn't a kind of equipment. Give ${KIND_WORDS.join(', ')}.`],
      output,
    );
  const { facts, wrong } = factsTyped(typed, word);
  if (wrong.length > 0) return refuse(wrong, output);
  const missing = missingFacts(word, facts);
  if (missing.length > 0) return refuse(missing, output);
  const { home, read } = openKit(typed);
  const there = itemsOf(read).find((item) => item.file !== null && sameName(item.facts.name, name));
  if (there)
    return refuse(
      [
        `"${there.facts.name}" is already in the kit. Change it with \`lidwright kit change\`, or give another name.`,
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
  if (wrong.length > 0) return refuse(wrong, output);
  const keys = Object.keys(KINDS[item.kind].keys).map((key) => `--${key}`);
  if (Object.keys(facts).length === 0)
    return refuse([`Give what to change: ${keys.join(', ')}. "none" removes a fact.`], output);
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
    output.message(`"${item.facts.name}" is built in. It goes as soon as you add a ${item.kind}.`);
    return 1;
  }
  const aside = removeItem({ file });
  const kept = `Its file is now ${pathForScreen(aside)}. Rename it back to restore it.`;
  output.data(`Removed ${item.kind} "${item.facts.name}". ${kept}`);
  return unchosen(item, home, read, output);
}

/** A settings file that chose what is gone would be reported at every start. */
function unchosen(item: AnyItem, home: Home, { settings }: KitRead, output: Output): ExitCode {
  const chosen = settings.from[item.kind] === 'file' && sameName(settings.values[item.kind], item.facts.name);
  if (!chosen) return 0;
  const edited = changedSettings(home, item.kind, undefined);
  return written(edited, `The ${item.kind} in use is now the first in the kit`, output);
}

export function chooseItem(typed: Typed, output: Output): ExitCode {
  const { home, read } = openKit(typed);
  const item = itemNamed(read, textArgument(typed, 0), output);
  if (!item) return 1;
  const edited = changedSettings(home, item.kind, item.facts.name);
  const code = written(edited, `"${item.facts.name}" is now the ${item.kind} in use`, output);
  if (code === 0) warnOverridden(item, output);
  return code;
}

/** The file does not count while the environment names another. */
function warnOverridden(item: AnyItem, output: Output): void {
  const variable = `LIDWRIGHT_${item.kind.toUpperCase()}`;
  const named = process.env[variable];
  if (named && !sameName(named, item.facts.name))
    output.message(
      `${variable} is set to "${forScreen(named)}" and overrides the file. Unset it to use this one.`,
    );
}

export function listItems(typed: Typed, output: Output): ExitCode {
  const { read } = openKit(typed);
  for (const item of itemsOf(read))
    output.data(typed.options.json === true ? itemJson(read, item) : itemLine(read, item));
  if (read.feeds.length === 0 && typed.options.json !== true)
    output.message(
      'No feed yet. `lidwright kit calibrate --help` shows how to find what a detent is worth and save it.',
    );
  sayTroubles(read.troubles, output);
  return read.troubles.length > 0 ? 3 : 0;
}
