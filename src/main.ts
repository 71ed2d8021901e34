// The command line: reads arguments, hands over to one command, and ends with its exit code. Knows everything, does nothing.
import { COMMANDS } from './commands/all.ts';
import { runProgram } from './commands/program.ts';

process.exitCode = await runProgram(process.argv.slice(2), COMMANDS);
