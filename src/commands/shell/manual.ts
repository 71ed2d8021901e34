// The man page, from the command definitions and the table of settings.
import { CAUTIONS } from '../../core/bench/cautions.ts';
import { fileKeyOf, SETTING_KEYS, SETTINGS, variableOf } from '../../kit/settings.ts';
import type { CommandSpec } from '../command.ts';
import { type Flag, flagOf } from './grammar.ts';
import { roffArgument, roffLine, roffText } from './roff.ts';

export interface Edition {
  readonly version: string;
  readonly about: string;
}

const bold = (text: string): string => `\\fB${roffText(text)}\\fR`;
const slanted = (text: string): string => `\\fI${roffText(text)}\\fR`;
const tagged = (tag: string, about: string): readonly string[] => ['.TP', tag, roffLine(about)];
const sentence = (text: string): string => {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
};

function flagTag({ names, value }: Flag): string {
  const taken = value ? ` ${slanted(value.name)}${value.many ? ' ...' : ''}` : '';
  return names.map(bold).join(', ') + taken;
}

function synopsisOf(spec: CommandSpec, path: string): string {
  const named = (spec.arguments ?? []).map(({ name }) => slanted(name.replace(/[<>]/g, '')));
  return [bold(`lidwright ${path}`), ...named, '[options]'].join(' ');
}

function section(spec: CommandSpec, above: string): readonly string[] {
  const path = `${above}${spec.name}`;
  return [
    `.SS ${roffArgument(path)}`,
    synopsisOf(spec, path),
    '.PP',
    roffLine(sentence(spec.summary)),
    ...(spec.arguments ?? []).flatMap(({ name, about }) => tagged(slanted(name.replace(/[<>]/g, '')), about)),
    ...spec.options.flatMap((option) => tagged(flagTag(flagOf(option)), option.about)),
    '.PP',
    'Example:',
    '.PP',
    '.nf',
    '.RS',
    roffLine(`lidwright ${spec.example.line}`),
    '.RE',
    '.fi',
    '.PP',
    roffLine(sentence(spec.example.shows)),
    ...(spec.sub ?? []).flatMap((sub) => section(sub, `${path} `)),
  ];
}

const EXITS: readonly (readonly [string, string])[] = [
  ['0', 'Done.'],
  ['1', 'Done, and the answer is no.'],
  ['2', 'Wrong use; nothing was changed.'],
  ['3', 'Trouble with a device or a file; what was kept before is kept.'],
];

const environment = (): readonly string[] => [
  ...tagged(bold('LIDWRIGHT_HOME'), 'One folder for every file; --home on any command is stronger.'),
  ...SETTING_KEYS.flatMap((key) => tagged(bold(variableOf(key)), SETTINGS[key].about)),
  ...tagged(bold('NO_COLOR'), 'Set to anything, there is no colour.'),
  ...tagged(bold('XDG_DATA_HOME, XDG_CONFIG_HOME, XDG_STATE_HOME'), 'Where the folders below lie.'),
];

const files = (): readonly string[] => [
  ...tagged(slanted('~/.local/share/lidwright/jobs.db'), 'Every job, with every reading it was made from.'),
  ...tagged(
    slanted('~/.config/lidwright/kit/'),
    'Calipers, cutters and feeds, one file each, to be edited and copied.',
  ),
  ...tagged(
    slanted('~/.config/lidwright/settings.toml'),
    `Settings: ${SETTING_KEYS.map(fileKeyOf).join(', ')}. The environment is stronger, a flag stronger still; lidwright kit where says which one holds.`,
  ),
];

/** The page in the man macros, section 1. */
export const manPage = (specs: readonly CommandSpec[], { version, about }: Edition): string =>
  [
    `.TH LIDWRIGHT 1 "" ${roffArgument(`lidwright ${version}`)} "User Commands"`,
    '.SH NAME',
    roffLine(`lidwright - ${about.charAt(0).toLowerCase()}${about.slice(1)}`),
    '.SH SYNOPSIS',
    `${bold('lidwright')} [${slanted('command')}] [options]`,
    '.SH CAUTIONS',
    ...Object.values(CAUTIONS).flatMap((caution, at) => [...(at > 0 ? ['.PP'] : []), roffLine(caution)]),
    '.SH COMMANDS',
    ...specs.flatMap((spec) => section(spec, '')),
    '.SH "EXIT STATUS"',
    ...EXITS.flatMap(([code, meaning]) => tagged(bold(code), meaning)),
    '.SH ENVIRONMENT',
    ...environment(),
    '.SH FILES',
    ...files(),
  ].join('\n');
