// The program with the one command that is measured here, so that a build of it needs nothing else.
import { runProgram } from '../../../src/commands/program.ts';

const jobs = { name: 'jobs', load: async () => (await import('../../../src/commands/jobs.ts')).jobsCommand };
process.exitCode = await runProgram(process.argv.slice(2), [jobs]);
