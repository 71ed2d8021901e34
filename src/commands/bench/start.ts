// Starting the bench: settings, records, port and face are found, each with its own refusal, before the screen is touched.

import { readKit } from '../../kit/kit.ts';
import { kitTroubleText } from '../../kit/trouble.ts';
import { type Home, homeOf } from '../../records/home.ts';
import { openRecords } from '../../records/jobs.ts';
import { troubleText } from '../../records/trouble.ts';
import { safeText } from '../../wire/safe.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { openBench } from './open.ts';
import { findLink, seekLink } from './port.ts';
import { spokenFace } from './spoken-face.ts';
import { terminalFace } from './terminal-face.ts';

export interface Beginning {
  readonly virtual: boolean;
  readonly seed: number;
}

export async function startFrom(typed: Typed, output: Output, begin: Beginning): Promise<ExitCode> {
  const home = homeOf(process.env);
  const read = () => readKit(home, { flags: typed.options, env: process.env });
  const { settings, troubles } = read();
  for (const trouble of troubles) output.message(`lidwright: ${safeText(kitTroubleText(trouble))}`);
  if (troubles.length > 0 && settings.troubles.length > 0) return 2;
  const { values } = settings;
  if (!process.stdout.isTTY && values.spoken === 'off') return refuseNoTerminal(output);
  const records = openRecords(home);
  if (!records.ok) {
    output.message(`lidwright: ${safeText(troubleText(records.trouble))}`);
    return 3;
  }
  for (const notice of records.value.notices) output.message(`lidwright: ${safeText(troubleText(notice))}`);
  const link = begin.virtual ? null : await findLink(home, values);
  const face = values.spoken === 'on' ? spokenFace : terminalFace;
  return openBench({
    records: records.value,
    unit: values.unit,
    link,
    seek: begin.virtual ? async () => null : () => seekLink(home, values),
    virtual: begin.virtual,
    seed: begin.seed,
    kit: () => read().kit,
    writeSheet: (job) => writeSheet(home, job),
    face: face(values),
  });
}

function refuseNoTerminal(output: Output): ExitCode {
  output.message(
    'lidwright: the bench needs a terminal to draw on, and stdout is none. Nothing was changed.',
  );
  output.message(
    'Run it in a terminal, or with --spoken on for plain sentences; `lidwright --help` lists the other commands.',
  );
  return 2;
}

async function writeSheet(_home: Home, _job: string): Promise<{ readonly trouble: string }> {
  return { trouble: 'not yet' };
}
