// From definitions to a command line: the one file that knows the argument parser.
import { Argument, Command, CommanderError, Option } from 'commander';
import about from '../../package.json' with { type: 'json' };
import { capitalised } from '../core/safe-text.ts';
import {
  type CommandSpec,
  type ExitCode,
  HOME_OPTION,
  type LazyCommand,
  type OptionSpec,
  type Output,
  type Typed,
} from './command.ts';
import { standardOutput } from './output.ts';

/** Runs what was asked and answers with the exit code; nothing is thrown. */
export async function runProgram(
  argv: readonly string[],
  commands: readonly LazyCommand[],
): Promise<ExitCode> {
  const output = standardOutput();
  if (argv[0] === '--version' || argv[0] === '-V') {
    output.data(`lidwright ${about.version}`);
    return 0;
  }
  const ended: { code: ExitCode } = { code: 0 };
  try {
    const program = await programFor(argv, commands, output, ended);
    await program.parseAsync([...argv], { from: 'user' });
    return ended.code;
  } catch (error) {
    return codeOf(error, output);
  }
}

/** Parser errors have said what was wrong already; anything else is trouble at the edge that a command did not expect. */
function codeOf(error: unknown, output: Output): ExitCode {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  output.message(`lidwright: ${error instanceof Error ? error.message : String(error)}`);
  output.message('Your saved jobs are safe. Run `lidwright doctor` for details.');
  return 3;
}

/** A command of ours: it throws instead of ending the process, and its words go where ours go. */
const quiet = (command: Command, output: Output): Command =>
  command.exitOverride().configureOutput({
    writeOut: (text) => output.data(text.trimEnd()),
    writeErr: (text) => output.message(parserWords(text, command)),
  });

/** The parser's own error as sentences, and where help is. */
function parserWords(text: string, command: Command): string {
  const error = /^error: ([^\n]*?)\.?\n(?:\((.*)\)\n)?$/.exec(text);
  if (!error) return text.trimEnd();
  const names: string[] = [];
  for (let at: Command | null = command; at; at = at.parent) names.unshift(at.name());
  const said = [`${capitalised(error[1] ?? '')}.`, ...(error[2] ? [error[2]] : [])].join(' ');
  return `${said} Nothing was done. \`${names.join(' ')} --help\` shows what is accepted, with an example.`;
}

/** Only the command that is called is loaded; all of them for the overview. */
async function programFor(
  argv: readonly string[],
  commands: readonly LazyCommand[],
  output: Output,
  ended: { code: ExitCode },
): Promise<Command> {
  const [word = ''] = argv;
  const called = commands.find(({ name }) => name === word);
  const bench = commands[0];
  const isWord = word !== '' && !word.startsWith('-');
  if (isWord && !called && word !== 'help')
    refuseWord(
      word,
      'lidwright',
      commands.map(({ name }) => name),
      output,
    );
  const asksHelp = argv.includes('--help') || argv.includes('-h') || word === 'help';
  const wanted = called ? [called] : asksHelp || !bench ? commands : [bench];
  const program = quiet(new Command('lidwright'), output)
    .description(about.description)
    .version(`lidwright ${about.version}`, '-V, --version', 'show the version')
    .helpOption('-h, --help', 'show this help')
    .helpCommand('help [command]', 'show the help of a command')
    .configureHelp({ showGlobalOptions: false })
    .addHelpText('after', '\nEach command has its own --help with a worked example.');
  for (const { load, name } of wanted) add(program, await load(), name === bench?.name, output, ended);
  return program;
}

function add(
  parent: Command,
  spec: CommandSpec,
  isDefault: boolean,
  output: Output,
  ended: { code: ExitCode },
): void {
  const command = quiet(parent.command(spec.name, { isDefault }), output)
    .description(spec.summary)
    .helpOption('-h, --help', 'show this help');
  for (const { name, about, choices } of spec.arguments ?? []) {
    const made = new Argument(name, about);
    command.addArgument(choices ? made.choices([...choices]) : made);
  }
  for (const option of [...spec.options, HOME_OPTION]) command.addOption(optionOf(option));
  command.addHelpText('after', `\nExample:\n  lidwright ${spec.example.line}\n  ${spec.example.shows}`);
  for (const sub of spec.sub ?? []) add(command, sub, false, output, ended);
  if (spec.sub) command.allowExcessArguments();
  command.action(async () => {
    const [word] = spec.sub ? command.args : [];
    if (word !== undefined) refuseWord(word, command.name(), spec.sub?.map(({ name }) => name) ?? [], output);
    ended.code = await spec.run(typedIn(command, spec), output);
  });
}

function optionOf({ flags, about, choices, offers }: OptionSpec): Option {
  const option = new Option(flags, about);
  if (choices) option.choices([...choices]);
  else if (offers) option.argChoices = [...offers];
  return option;
}

/** Ends with a sentence about an unknown command: the parser's own guess, else names that begin alike, else all of them. */
function refuseWord(word: string, under: string, names: readonly string[], output: Output): never {
  const alike = names.filter((name) => name.slice(0, 3) === word.slice(0, 3));
  const guesser = new Command(under).exitOverride().configureOutput({
    writeErr: (text) => {
      const guessed = /\(Did you mean (?:one of )?([^?]+)\?\)/.exec(text)?.[1] ?? alike.join(', ');
      const hint = guessed === '' ? `The commands are ${names.join(', ')}.` : `Did you mean ${guessed}?`;
      output.message(`Unknown command "${word}". ${hint} \`lidwright --help\` lists every command.`);
    },
  });
  for (const name of names) guesser.command(name);
  guesser.parse([word], { from: 'user' });
  throw new CommanderError(2, 'unknown-command', word);
}

function typedIn(command: Command, spec: CommandSpec): Typed {
  const options = command.optsWithGlobals() as Typed['options'];
  const args = (spec.arguments ?? []).map(
    (_, at) => command.processedArgs[at] as string | readonly string[] | undefined,
  );
  const home = options.home;
  if (typeof home === 'string') process.env.LIDWRIGHT_HOME = home;
  return { args, options };
}
