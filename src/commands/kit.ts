// `lidwright kit`: the turner's calipers, cutters and feed handle as facts, the settings, and the feed calibrated.
import { SETTING_KEYS, settingOptions } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { factOptions } from './kit/facts.ts';

const JSON_OPTION = { flags: '--json', about: 'one JSON object a line, lengths in mm' };
const NAME = { name: '<name>', about: 'what it is called in the kit' };
const KIND = { name: '<kind>', about: 'caliper, cutter or feed', choices: ['caliper', 'cutter', 'feed'] };

const items = () => import('./kit/items.ts');
const settings = () => import('./kit/settings.ts');

const subs: readonly CommandSpec[] = [
  {
    name: 'add',
    summary: 'add a caliper, a cutter or a feed under a name',
    arguments: [KIND, NAME],
    options: factOptions(),
    example: {
      line: 'kit add cutter "vee 60" --angle 60deg --tip "flat 0.2mm" --diameter 20mm --top-speed 8000',
      shows: 'where the new file lies, which can be copied to another bench as it is',
    },
    run: async (typed, output) => (await items()).addItem(typed, output),
  },
  {
    name: 'show',
    summary: 'every fact of one item, and its file',
    arguments: [NAME],
    options: [JSON_OPTION],
    example: { line: 'kit show "vee 60"', shows: 'its facts in the words of its file' },
    run: async (typed, output) => (await items()).showItem(typed, output),
  },
  {
    name: 'change',
    summary: 'change facts of one item; comments in its file stay',
    arguments: [NAME],
    options: factOptions(['none']),
    example: {
      line: 'kit change "vee 60" --diameter 19.6mm',
      shows: 'that it was changed; none takes a fact out',
    },
    run: async (typed, output) => (await items()).changeItem(typed, output),
  },
  {
    name: 'choose',
    summary: 'use this caliper, cutter or feed from now on',
    arguments: [NAME],
    options: [],
    example: { line: 'kit choose "vee 60"', shows: 'that it is offered first in a new job' },
    run: async (typed, output) => (await items()).chooseItem(typed, output),
  },
  {
    name: 'where',
    summary: 'every setting, its value, and whether flag, environment, file or default won',
    options: [...settingOptions(SETTING_KEYS), JSON_OPTION],
    example: {
      line: 'kit where --unit in',
      shows: 'unit in, from the flag; the others from where they come',
    },
    run: async (typed, output) => (await settings()).showWhere(typed, output),
  },
  {
    name: 'set',
    summary: 'change one setting in the settings file; without a value, back to its default',
    arguments: [
      { name: '<setting>', about: 'its key in the settings file, as `kit where` lists them' },
      { name: '[value]', about: 'what it is to be' },
    ],
    options: [],
    example: { line: 'kit set unit in', shows: 'that lengths are in inches from now on' },
    run: async (typed, output) => (await settings()).setSetting(typed, output),
  },
  {
    name: 'calibrate',
    summary: 'find what a detent of the feed is worth, from measured travels or from a pair that runs',
    options: [
      { flags: '--detents <count>', about: 'detents fed for each travel; or how many deep the bore was cut' },
      { flags: '--travel <lengths...>', about: 'travels measured over that many detents, one or several' },
      { flags: '--gauge-within <length>', about: 'how far off the gauge may be, plus or minus (0.01mm)' },
      { flags: '--pitch <pitch>', about: 'a pair that runs: its thread, 16tpi or 1.5mm' },
      { flags: '--starts <count>', about: 'its starts (1)' },
      { flags: '--bore <length>', about: 'its bore over the crests, after it was threaded' },
      { flags: '--spigot <length>', about: 'its spigot, before it was threaded' },
      { flags: '--spigot-detents <count>', about: 'how many deep the spigot was cut (as the bore)' },
      { flags: '--play <length>', about: 'how far the closed lid shakes along its axis' },
      { flags: '--play-within <length>', about: 'how surely that is known, plus or minus (0.05mm)' },
      {
        flags: '--touch-off-within <length>',
        about: 'how surely each touch-off was met, plus or minus (0.05mm)',
      },
      ...settingOptions(['cutter', 'caliper', 'unit']),
      { flags: '--save <name>', about: 'keep the answer as this feed of the kit' },
      JSON_OPTION,
    ],
    example: {
      line: 'kit calibrate --detents 20 --travel 1.02mm 1.01mm 1.02mm --save "cross slide"',
      shows: 'one detent is 0.0508 mm, how surely, and what that does to a depth',
    },
    run: async (typed, output) => (await import('./kit/calibrate.ts')).calibrate(typed, output),
  },
  {
    name: 'remove',
    summary: 'take one item out of the kit; its file is kept beside the others',
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
  summary: "the turner's caliper, cutters and feed handle, as facts; calibrate a feed",
  options: [
    { flags: '--where', about: 'every setting, and which of flag, environment, file or default won' },
    { flags: '--write-settings', about: 'write a settings file with every setting explained' },
    JSON_OPTION,
  ],
  example: { line: 'kit', shows: 'calipers, cutters and feeds, those in use first' },
  sub: subs,
  run,
};
