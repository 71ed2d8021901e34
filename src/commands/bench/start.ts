// Starts the bench: finds settings, records, port and display, and refuses clearly before it touches the screen.
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Entry } from '../../core/bench/entry.ts';
import { forScreen } from '../../core/safe-text.ts';
import type { KitRead } from '../../kit/kit.ts';
import { SETTING_KEYS, type Settings } from '../../kit/settings.ts';
import { kitTroubleText } from '../../kit/trouble.ts';
import { hostClock } from '../../link/link.ts';
import { type Places, rescue, rescueText } from '../../records/export.ts';
import { type Home, makePrivateFolder, writePrivately } from '../../records/home.ts';
import { openRecords, type Records } from '../../records/jobs.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { openKit, saveFeed } from '../kit/kit-files.ts';
import { jobIn, reportTrouble } from '../open-records.ts';
import { endWith } from '../output.ts';
import { sheetFileName } from '../sheet.ts';
import { drawnDisplay, spokenDisplay } from './displays.ts';
import type { Devices } from './line.ts';
import { type BenchSettings, openBench, type StartOptions } from './open.ts';

export async function startFrom(typed: Typed, output: Output, begin: StartOptions): Promise<ExitCode> {
  const { home, read: found } = openKit(typed, SETTING_KEYS);
  const read = () => openKit(typed, SETTING_KEYS).read;
  const refused = refusedStart(found, output, 'lidwright');
  if (refused !== undefined) return refused;
  const { values } = found.settings;
  const records = openRecords(home);
  if (!records.ok) return reportTrouble(records.trouble, output, 'lidwright');
  for (const notice of records.value.notices) reportTrouble(notice, output, 'lidwright');
  return openBench({
    records: records.value,
    unit: values.unit,
    devices: devicesOf(found),
    now: hostClock,
    // The port's library is the heaviest part of the program: it is loaded after the first frame is drawn.
    findLink: async () => (begin.virtual ? null : (await import('../ports.ts')).findLink(home, values)),
    seekLink: async () => (begin.virtual ? null : (await import('../ports.ts')).seekLink(home, values)),
    ...begin,
    kit: () => read().kit,
    rescue: (log, unsaved) => rescueTo(output, rescueText(log, placesIn(records.value, log)), unsaved),
    keepFeed: (feed) => saveFeed(home, read(), feed),
    writeSheet: (job) => writeSheet(home, records.value, job),
    display: displayFor(values),
  });
}

/** Says what is wrong in the kit; the exit code where the bench can't open, undefined where it can. */
export function refusedStart(
  { settings, troubles }: KitRead,
  output: Output,
  command: string,
): ExitCode | undefined {
  for (const trouble of troubles) output.message(`${command}: ${kitTroubleText(trouble)}`);
  if (settings.troubles.length > 0) return 2;
  return !process.stdout.isTTY && settings.values.spoken === 'off' ? refuseNoTerminal(output) : undefined;
}

export const displayFor = (values: Settings): BenchSettings['display'] =>
  values.spoken === 'on' ? spokenDisplay() : drawnDisplay(values);

/** The unit of the caliper and the direction of the feed in use; a built-in caliper reads in the unit set. */
export function devicesOf({ calipers, feeds, settings }: KitRead): Devices {
  const [caliper, feed] = [calipers[0], feeds[0]];
  const bareUnit = caliper?.file ? caliper.facts.unit : settings.values.unit;
  return { bareUnit, deeper: feed?.facts.deeper ?? 'up' };
}

/** The place of each saved entry of a log; none where the records can't even be read. */
function placesIn(records: Records, log: readonly Entry[]): Places {
  const places = records.placesOf(log[0]?.job ?? '');
  return places.ok ? places.value : new Map();
}

/** Says where the unsaved entries went; where no folder takes a file they are printed, so that they can be copied. */
function rescueTo(output: Output, text: string, unsaved: number): void {
  const path = rescue(text, [process.cwd(), tmpdir(), homedir()], Date.now());
  if (path === null) {
    output.message(
      `lidwright: ${unsaved} entries could not be saved anywhere. Keep these lines in a file and import them:`,
    );
    output.message(text);
    return;
  }
  output.message(`lidwright: ${unsaved} entries could not be saved. The whole job is in ${forScreen(path)}.`);
  output.message(
    '`lidwright jobs import` brings the job back once the database can be written; duplicates are ignored.',
  );
}

const refuseNoTerminal = (output: Output): ExitCode =>
  endWith(
    output,
    2,
    "lidwright: the bench needs a terminal; stdout isn't one. Nothing was changed.",
    'Run it in a terminal, or with --spoken on for plain sentences; `lidwright --help` lists the other commands.',
  );

/** The sheet goes into a folder beside the jobs, named by job and date. */
async function writeSheet(
  home: Home,
  records: Records,
  id: string,
): Promise<{ path: string } | { trouble: string }> {
  const job = jobIn(records, id);
  if ('trouble' in job) return job;
  const { sheetPage } = await import('../../sheet/page.ts');
  const folder = join(home.data, 'sheets');
  const found = records.find(id);
  const number = found.ok ? (found.value[0]?.number ?? 0) : 0;
  const day = new Date().toISOString().slice(0, 10);
  const path = join(folder, sheetFileName(number, job.name, day));
  try {
    makePrivateFolder(folder);
    writePrivately(path, sheetPage(job, job.setup.unit, day));
    return { path };
  } catch (error) {
    return {
      trouble: `${path} cannot be written (${error instanceof Error ? error.message : String(error)})`,
    };
  }
}
