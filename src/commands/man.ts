// `lidwright man`: the manual page as roff, made from the definitions of every command and the table of settings.
import about from '../../package.json' with { type: 'json' };
import { CAUTIONS } from '../core/bench/cautions.ts';
import { capitalised } from '../core/safe-text.ts';
import { dashed } from '../kit/quantities.ts';
import { SETTING_KEYS, SETTINGS, variableOf } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, LazyCommand, OptionSpec } from './command.ts';

const hex = (letter: string): string =>
  (letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');

/** Text inside a line: nothing in it is an escape, and hyphens stay hyphens (groff_char(7)). */
const roffText = (text: string): string =>
  text
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replaceAll("'", '\\(aq')
    .replaceAll('`', '\\(ga')
    .replaceAll('^', '\\(ha')
    .replaceAll('~', '\\(ti')
    .replace(/[^\x20-\x7e]/gu, (letter) => `\\[u${hex(letter)}]`);

/** A whole line: a full stop at its beginning would be a request (groff(7)). */
function roffLine(text: string): string {
  const line = roffText(text);
  return line.startsWith('.') ? `\\&${line}` : line;
}

const quoted = (text: string): string => `"${roffText(text).replaceAll('"', '\\(dq')}"`;
const bold = (text: string): string => `\\fB${roffText(text)}\\fR`;
const slanted = (text: string): string => `\\fI${roffText(text)}\\fR`;
const tagged = (tag: string, text: string): readonly string[] => ['.TP', tag, roffLine(text)];

function sentence(text: string): string {
  const whole = capitalised(text);
  return /[.!?]$/.test(whole) ? whole : `${whole}.`;
}

/** `--out <file...>` as bold flags and a slanted value. */
function optionTag({ flags }: OptionSpec): string {
  const [names = '', value] = flags.split(/ (?=[<[])/);
  const taken = value?.replace(/[<>[\]]/g, '').replace('...', ' ...');
  return names.split(', ').map(bold).join(', ') + (taken === undefined ? '' : ` ${slanted(taken)}`);
}

const argumentTag = ({ name }: { readonly name: string }): string => slanted(name.replace(/[<>]/g, ''));

function section(spec: CommandSpec, above: string): readonly string[] {
  const path = `${above}${spec.name}`;
  const args = spec.arguments ?? [];
  return [
    `.SS ${quoted(path)}`,
    [bold(`lidwright ${path}`), ...args.map(argumentTag), '[options]'].join(' '),
    '.PP',
    roffLine(sentence(spec.summary)),
    ...args.flatMap((each) => tagged(argumentTag(each), each.about)),
    ...spec.options.flatMap((option) => tagged(optionTag(option), option.about)),
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
  ['3', 'Trouble with a device or a file; everything saved before is safe.'],
];

const environment = (): readonly string[] => [
  ...tagged(bold('LIDWRIGHT_HOME'), 'One folder for all files; --home on any command overrides it.'),
  ...SETTING_KEYS.flatMap((key) => tagged(bold(variableOf(key)), sentence(SETTINGS[key].about))),
  ...tagged(bold('NO_COLOR'), 'Set it to any value to turn colour off.'),
  ...tagged(bold('XDG_DATA_HOME, XDG_CONFIG_HOME, XDG_STATE_HOME'), 'Move the folders below.'),
];

const files = (): readonly string[] => [
  ...tagged(slanted('~/.local/share/lidwright/jobs.db'), 'Every job, with every reading behind it.'),
  ...tagged(
    slanted('~/.config/lidwright/kit/'),
    'Calipers, cutters and feeds, one file each, which you can edit and copy.',
  ),
  ...tagged(
    slanted('~/.config/lidwright/settings.toml'),
    `Settings: ${SETTING_KEYS.map(dashed).join(', ')}. The environment overrides this file, and a flag overrides both; lidwright kit where shows which one counts.`,
  ),
];

/** The page in the man macros, section 1. */
const manPage = (specs: readonly CommandSpec[]): string =>
  [
    `.TH LIDWRIGHT 1 "" ${quoted(`lidwright ${about.version}`)} "User Commands"`,
    '.SH NAME',
    roffLine(`lidwright - ${about.description.charAt(0).toLowerCase()}${about.description.slice(1)}`),
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

export const manCommand = (commands: readonly LazyCommand[]): CommandSpec => ({
  name: 'man',
  summary: 'print the manual page as roff',
  options: [],
  example: {
    line: 'man',
    shows: 'the page; to read it, `lidwright man > lidwright.1` and `man ./lidwright.1`',
  },
  run: async (_typed, output): Promise<ExitCode> => {
    output.data(manPage(await Promise.all(commands.map(({ load }) => load()))));
    return 0;
  },
});
