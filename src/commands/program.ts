// From definitions to a command line: the one file that knows the argument parser.
import { Argument, Command, CommanderError, Option } from 'commander';
import about from '../../package.json' with { type: 'json' };
import type { LazyCommand } from './all.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { standardOutput } from './output.ts';

/** Every command has it. */
export const HOME_OPTION = {
  flags: '--home <folder>',
  about: 'keep every file here instead of the usual folders',
};

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
  const program = await programFor(argv, commands, output, ended);
  try {
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
  output.message('Nothing that was saved before is lost. `lidwright doctor` says more.');
  return 3;
}

/** Only the command that is called is loaded; all of them for the overview. */
async function programFor(
  argv: readonly string[],
  commands: readonly LazyCommand[],
  output: Output,
  ended: { code: ExitCode },
): Promise<Command> {
  const called = commands.find(({ name }) => name === argv[0]);
  const asksHelp = argv.includes('--help') || argv.includes('-h') || argv[0] === 'help';
  const bench = commands[0];
  const wanted = called ? [called] : asksHelp || !startsBench(argv) ? commands : bench ? [bench] : [];
  const program = new Command('lidwright');
  program
    .description(about.description)
    .version(`lidwright ${about.version}`, '-V, --version')
    .exitOverride()
    .configureHelp({ showGlobalOptions: false })
    .addHelpText('after', '\nEach command has its own --help with a worked example.');
  for (const { load, name } of wanted) add(program, await load(), name === bench?.name, output, ended);
  return program;
}

const startsBench = (argv: readonly string[]): boolean => argv[0] === undefined || argv[0].startsWith('-');

function add(
  parent: Command,
  spec: CommandSpec,
  isDefault: boolean,
  output: Output,
  ended: { code: ExitCode },
): void {
  const command = parent.command(spec.name, { isDefault }).description(spec.summary).exitOverride();
  for (const { name, about, choices } of spec.arguments ?? []) {
    const made = new Argument(name, about);
    command.addArgument(choices ? made.choices([...choices]) : made);
  }
  for (const option of [...spec.options, HOME_OPTION]) {
    const made = new Option(option.flags, option.about);
    command.addOption('choices' in option && option.choices ? made.choices([...option.choices]) : made);
  }
  command.addHelpText('after', `\nExample:\n  lidwright ${spec.example.line}\n  ${spec.example.shows}`);
  for (const sub of spec.sub ?? []) add(command, sub, false, output, ended);
  command.action(async () => {
    ended.code = await spec.run(typedIn(command, spec), output);
  });
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
