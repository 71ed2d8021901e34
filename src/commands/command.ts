// What a command is: a definition that help, completions and the man page are made from, and a function to run.

/** 0 done, 1 the answer is no, 2 wrong use, 3 device or file trouble. */
export type ExitCode = 0 | 1 | 2 | 3;

/** One option of a command, as `--help` shows it. */
export interface OptionSpec {
  /** In commander's own form: `--bore <length>`, `--json`, `--file <path...>`. */
  readonly flags: string;
  readonly about: string;
  /** The only values it may have; the parser refuses any other. */
  readonly choices?: readonly string[];
  /** Values that a shell offers; the command reads the option itself, and may know more names for them. */
  readonly offers?: readonly string[];
}

export interface ArgumentSpec {
  /** In commander's own form: `<file...>`, `[name]`. */
  readonly name: string;
  readonly about: string;
  /** Values it may have; anything else is wrong use. */
  readonly choices?: readonly string[];
}

/** Every command has it. */
export const HOME_OPTION: OptionSpec = {
  flags: '--home <folder>',
  about: 'folder for all files, instead of the usual ones',
};

/** What was typed: arguments in order (a variadic one is a list), options by camel-cased name. */
export interface Typed {
  readonly args: readonly (string | readonly string[] | undefined)[];
  readonly options: Readonly<Record<string, string | boolean | readonly string[] | undefined>>;
}

/** Where a command's words go: data to stdout, messages to stderr; both end each call with a line feed. */
export interface Output {
  data(line: string): void;
  message(line: string): void;
  /** Settles once the reader of stdout has taken nearly everything written: an endless writer waits for it. */
  drained(): Promise<void>;
  /** True where stdout is a terminal and NO_COLOR is unset. */
  readonly colour: boolean;
  /** True where stdout is a terminal: a picture may be drawn. */
  readonly terminal: boolean;
  readonly columns: number;
}

export interface CommandSpec {
  readonly name: string;
  readonly summary: string;
  readonly arguments?: readonly ArgumentSpec[];
  readonly options: readonly OptionSpec[];
  /** One worked example, printed by `--help` and run by a test: the line after `lidwright `, and what it shows. */
  readonly example: { readonly line: string; readonly shows: string };
  readonly sub?: readonly CommandSpec[];
  /** Heavy modules are imported inside, so that `--help` stays fast. */
  readonly run: (typed: Typed, output: Output) => ExitCode | Promise<ExitCode>;
}

/** A command by name, whose module is loaded only when it is called for. */
export interface LazyCommand {
  readonly name: string;
  readonly load: () => Promise<CommandSpec>;
}
