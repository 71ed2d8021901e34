// `lidwright kit`: the turner's calipers, cutters and feed handle as facts, the settings, and the feed calibrated.
import { factsOf, KIND_WORDS, KINDS } from '../kit/equipment.ts';
import { SETTING_KEYS } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, OptionSpec, Output, Typed } from './command.ts';
import { askOptions, JSON_LINES, option, settingOptions } from './options.ts';
import { BY_PAIR, BY_TRAVEL } from './thread-options.ts';

const JSON_IN_MM = { ...JSON_LINES, about: `${JSON_LINES.about}, lengths in mm` };
const NAME = { name: '<name>', about: 'its name in the kit' };
const KIND = { name: '<kind>', about: 'caliper, cutter or feed', choices: KIND_WORDS };

const items = () => import('./kit/items.ts');
const settings = () => import('./kit/settings.ts');

/** Every fact of every kind as a flag; `also` are words accepted beside a fact's own. */
const factOptions = (also: readonly string[] = []): readonly OptionSpec[] =>
  KIND_WORDS.flatMap((word) =>
    factsOf(KINDS[word]).flatMap(({ name, of, about }) => {
      const choices = of.choices && [...of.choices, ...also];
      const flag = { ...of, ...(choices && { choices }) };
      return askOptions({ [name]: option(flag, `${word}: ${about}`) });
    }),
  );

const subs: readonly CommandSpec[] = [
  {
    name: 'add',
    summary: 'add a caliper, a cutter or a feed',
    arguments: [KIND, NAME],
    options: factOptions(),
    example: {
      line: 'kit add cutter "vee 60" --angle 60deg --tip "flat 0.2mm" --diameter 20mm --top-speed 8000',
      shows: 'where the new file is; you can copy it to another bench as it is',
    },
    run: async (typed, output) => (await items()).addItem(typed, output),
  },
  {
    name: 'show',
    summary: 'show every fact of one item, and its file',
    arguments: [NAME],
    options: [JSON_IN_MM],
    example: { line: 'kit show "vee 60"', shows: 'its facts, named as in its file' },
    run: async (typed, output) => (await items()).showItem(typed, output),
  },
  {
    name: 'change',
    summary: 'change facts of one item; comments in its file are kept',
    arguments: [NAME],
    options: factOptions(['none']),
    example: {
      line: 'kit change "vee 60" --diameter 19.6mm',
      shows: 'the item and its file; the value "none" removes a fact',
    },
    run: async (typed, output) => (await items()).changeItem(typed, output),
  },
  {
    name: 'choose',
    summary: 'use this caliper, cutter or feed from now on',
    arguments: [NAME],
    options: [],
    example: { line: 'kit choose "vee 60"', shows: 'a new job now starts with this cutter' },
    run: async (typed, output) => (await items()).chooseItem(typed, output),
  },
  {
    name: 'where',
    summary: 'show every setting, its value, and where that comes from: flag, environment, file or default',
    options: [...settingOptions(SETTING_KEYS), JSON_IN_MM],
    example: {
      line: 'kit where --unit in',
      shows: 'unit in, from the flag; the others and where they come from',
    },
    run: async (typed, output) => (await settings()).showWhere(typed, output),
  },
  {
    name: 'set',
    summary: 'change one setting in the settings file; without a value, reset it to its default',
    arguments: [
      { name: '<setting>', about: 'its key in the settings file, as `kit where` lists them' },
      { name: '[value]', about: 'its new value' },
    ],
    options: [],
    example: { line: 'kit set unit in', shows: 'lengths are in inches from now on' },
    run: async (typed, output) => (await settings()).setSetting(typed, output),
  },
  {
    name: 'calibrate',
    summary: 'find what a detent of the feed is worth, from measured travels or from a pair that runs',
    options: [
      ...askOptions(BY_TRAVEL),
      { flags: '--travel <lengths...>', about: 'travels measured over that many detents, one or more' },
      ...askOptions(BY_PAIR).slice(1),
      ...settingOptions(['cutter', 'caliper', 'unit']),
      { flags: '--save <name>', about: 'save the result in the kit under this name' },
      JSON_IN_MM,
    ],
    example: {
      line: 'kit calibrate --detents 20 --travel 1.02mm 1.01mm 1.02mm --save "cross slide"',
      shows: 'one detent is 0.0508 mm, how accurate that is, and what it means for a depth',
    },
    run: async (typed, output) => (await import('./kit/calibrate.ts')).calibrate(typed, output),
  },
  {
    name: 'remove',
    summary: 'remove one item from the kit; its file is renamed, not deleted',
    arguments: [NAME],
    options: [],
    example: { line: 'kit remove "vee 60"', shows: 'what its file is now called' },
    run: async (typed, output) => (await items()).removeNamed(typed, output),
  },
];

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  if (typed.options.writeSettings === true) return (await settings()).writeSettings(typed, output);
  if (typed.options.where === true) return (await settings()).showWhere(typed, output);
  return (await items()).listItems(typed, output);
}

export const kitCommand: CommandSpec = {
  name: 'kit',
  summary: 'list and change your calipers, cutters, feed and settings; calibrate the feed',
  options: [
    { flags: '--where', about: 'show every setting and where its value comes from' },
    { flags: '--write-settings', about: 'write a settings file with every setting explained' },
    JSON_IN_MM,
  ],
  example: { line: 'kit', shows: 'calipers, cutters and feeds, those in use first' },
  sub: subs,
  run,
};
