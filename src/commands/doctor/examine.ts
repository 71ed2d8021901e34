// `lidwright doctor`, check by check: each finding is printed as soon as it is known, the line's last, since it takes a while.
import { accessSync, constants, existsSync, readFileSync, statfsSync, statSync } from 'node:fs';
import { userInfo } from 'node:os';
import { dirname } from 'node:path';
import about from '../../../package.json' with { type: 'json' };
import { counted } from '../../core/figures.ts';
import { forScreen, pathForScreen } from '../../core/safe-text.ts';
import { millis } from '../../core/units.ts';
import type { KitRead } from '../../kit/kit.ts';
import { countOf } from '../../kit/quantities.ts';
import { kitTroubleText } from '../../kit/trouble.ts';
import { hostClock } from '../../link/link.ts';
import { findPorts } from '../../link/ports.ts';
import { probePort } from '../../link/probe.ts';
import { portUsers } from '../../link/serial.ts';
import { type Database, openToLook } from '../../records/database.ts';
import type { Home } from '../../records/home.ts';
import { checkAll, notOursAt } from '../../records/open.ts';
import { versionOf } from '../../records/schema.ts';
import { type RecordsTrouble, troubleOf, troubleText } from '../../records/trouble.ts';
import { glyphsOf } from '../../screen/glyphs.ts';
import { colourDepthOf } from '../../screen/theme.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { openKit } from '../kit/kit-files.ts';
import { OptionReader } from '../options.ts';
import { answer, endWith } from '../output.ts';
import { choosePort, lastPort } from '../ports.ts';
import {
  type Access,
  attention,
  bad,
  exitCodeOf,
  type Finding,
  findingLines,
  judgeAccess,
  judgeClock,
  judgeColour,
  judgeDisk,
  judgeGlyphs,
  judgeLine,
  judgeRuntime,
  judgeTerminal,
  judgeUsers,
  ok,
} from './findings.ts';

type Tell = (finding: Finding) => void;

/** What a look at the system gives; undefined where it doesn't say. */
function looked<T>(look: () => T): T | undefined {
  try {
    return look();
  } catch {
    return undefined;
  }
}

/** The newest of these files, by the time it was last written. */
function newestOf(files: readonly { readonly what: string; readonly path: string }[]) {
  const times = files.map(({ what, path }) => {
    return { what, at: statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0 };
  });
  return times.reduce((newest, each) => (each.at > newest.at ? each : newest));
}

function examineSurroundings({ settings }: KitRead, home: Home, tell: Tell): void {
  const { columns = 0, rows = 0, isTTY } = process.stdout;
  tell(judgeRuntime(process.versions.node, about.engines.node.replace(/^\D*/, '')));
  tell(judgeTerminal(isTTY === true ? { columns, rows } : undefined));
  tell(judgeColour(colourDepthOf(process.env)));
  tell(judgeGlyphs(settings.values.glyphs, glyphsOf(process.env)));
  const written = [
    { what: 'this program', path: process.argv[1] ?? '' },
    { what: 'the job database', path: home.database },
  ];
  tell(judgeClock(Date.now(), newestOf(written)));
}

function examineKit({ kit, troubles }: KitRead, tell: Tell): void {
  for (const trouble of troubles)
    tell(attention('kit', kitTroubleText(trouble), '`lidwright kit where` shows which values count'));
  if (troubles.length > 0) return;
  const inUse = [kit.calipers[0], kit.cutters[0], kit.feeds[0]].flatMap((item) =>
    item ? [`"${item.name}"`] : [],
  );
  tell(ok('kit', `in use: ${inUse.join(', ')}`));
}

/** The folder itself, or the nearest above it that exists. */
function nearestFolder(path: string): string {
  let folder = path;
  while (!existsSync(folder) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

const may = (path: string, mode: number): boolean => looked(() => accessSync(path, mode) ?? true) === true;

/** From this size on the check takes long enough to be announced. */
const LARGE = 20 * 1024 * 1024;

const sizeOfRecords = (path: string): number => statSync(path, { throwIfNoEntry: false })?.size ?? 0;

/** Never fails: anything wrong becomes a finding. */
export function judgeRecords(path: string): Finding {
  if (!existsSync(path))
    return ok('records', `none yet: ${pathForScreen(path)} is created with the first job`);
  let database: Database | undefined;
  try {
    database = openToLook(path);
    return judged(database, path);
  } catch (error) {
    return inTheWay(troubleOf(error, path) ?? { kind: 'failed', path, detail: String(error) });
  } finally {
    database?.close();
  }
}

function judged(database: Database, path: string): Finding {
  const trouble = notOursAt(path, database);
  if (trouble) return inTheWay(trouble);
  const found = versionOf(database);
  if (found === 0) return ok('records', `an empty file, filled with the first job: ${pathForScreen(path)}`);
  const { wrong, entries, readings, unusable } = database.view(() => checkAll(database));
  if (wrong !== null) return damaged(path, wrong);
  const [first] = unusable;
  if (first) return unusableIn(first, unusable.length);
  const jobs = Number(database.get('SELECT count(*) AS jobs FROM job')?.jobs);
  const size = (sizeOfRecords(path) / 1024).toFixed(0);
  const held = `${jobs} jobs, ${entries} entries, ${readings} readings`;
  return ok(
    'records',
    `every row checked, all sound: ${held}; ${size} KiB, format ${found}, in ${pathForScreen(path)}`,
  );
}

const damaged = (path: string, detail: string): Finding =>
  bad(
    'records',
    `${pathForScreen(path)} is damaged (${forScreen(detail)}). Nothing was changed`,
    'copy the file somewhere safe. The next start of the bench sets it aside, exports what can be read, and begins a new one',
  );

const unusableIn = ({ job, reason }: { job: number; reason: string }, count: number): Finding =>
  bad(
    'records',
    `sound, but ${counted(count, 'entry', 'entries')} can't be used, the first of them in job ${job} (${forScreen(reason, 200)}). They are kept but not used`,
    `see it with \`lidwright jobs show ${job}\`. Measure or type that value again at the bench, or take the job off the list with \`lidwright jobs remove ${job}\``,
  );

/** Trouble's own sentences end with what to do. */
function inTheWay(trouble: RecordsTrouble): Finding {
  if (trouble.kind === 'damaged') return damaged(trouble.path, trouble.detail);
  const [says = '', ...todo] = pathForScreen(troubleText(trouble)).split(/(?<=\.) (?=[A-Z])/);
  return bad('records', says, todo.join(' '));
}

function examineKeeping(home: Home, output: Output, tell: Tell): void {
  const size = sizeOfRecords(home.database);
  if (size > LARGE) output.message(`Checking ${(size / 1024 / 1024).toFixed(0)} MiB of records ...`);
  tell(judgeRecords(home.database));
  const folder = nearestFolder(home.data);
  const disk = looked(() => statfsSync(folder));
  tell(judgeDisk(pathForScreen(folder), disk && disk.bavail * disk.bsize, may(folder, constants.W_OK)));
}

const GROUP_MAY = 0o060;

/** Whether the port may be opened, and by which group; null where the device does not exist. */
function accessTo(path: string): Access | null {
  const device = statSync(path, { throwIfNoEntry: false });
  if (!device) return null;
  // Lines of the group file: name, password, id, members (group(5)).
  const groups = (looked(() => readFileSync('/etc/group', 'utf8')) ?? '').split('\n');
  const [name, , , members] =
    groups.map((line) => line.split(':')).find(([, , id]) => id === String(device.gid)) ?? [];
  return {
    path,
    mayOpen: may(path, constants.R_OK | constants.W_OK),
    group: { name: name ?? String(device.gid), allowed: (device.mode & GROUP_MAY) === GROUP_MAY },
    listed: members?.split(',').includes(userInfo().username) ?? false,
    joined: process.getgroups?.().includes(device.gid) ?? false,
  };
}

/** The port to check; null, after a finding that says why, without one. */
async function examinePort(named: string, home: Home, tell: Tell): Promise<string | null> {
  const { ports: found } = await findPorts();
  const choice =
    named === '' ? choosePort(found, lastPort(home)) : ({ kind: 'chosen', path: named } as const);
  if (choice.kind === 'none') {
    tell(attention('port', choice.why, 'without a board, type the readings or use the virtual bench'));
    return null;
  }
  const [{ path }, shown] = [choice, pathForScreen(choice.path)];
  const access = accessTo(path);
  if (!access) {
    tell(bad('port', `${shown} does not exist`, '`lidwright ports` lists what is plugged in'));
    return null;
  }
  tell(ok('port', `${shown}, ${found.length > 1 ? `one of ${found.length} found` : 'the only one found'}`));
  const finding = judgeAccess(access);
  tell(finding);
  return finding.state === 'ok' ? path : null;
}

async function examineLine(path: string, baud: number, seconds: number, output: Output, tell: Tell) {
  const held = judgeUsers(path, await portUsers(path));
  tell(held);
  if (held.state !== 'ok') return;
  output.message(`Listening for ${seconds} s. Move the caliper, and turn the feed if you have one ...`);
  const probe = await probePort(path, { baud, now: hostClock, patience: millis(seconds * 1000) });
  tell(judgeLine(probe, seconds));
}

export async function examine(typed: Typed, output: Output): Promise<ExitCode> {
  const options = new OptionReader(typed);
  const seconds = options.one('for', countOf('seconds', 1, 600)) ?? 10;
  if (options.errors.length > 0) return endWith(output, 2, ...options.errors);
  const findings: Finding[] = [];
  const tell: Tell = (finding) => {
    findings.push(finding);
    const { what, state, says, todo = null } = finding;
    answer(typed, output, { kind: 'finding', v: 1, what, state, says, todo }, findingLines(finding));
  };
  const { home, read } = openKit(typed, ['port', 'baud', 'glyphs']);
  examineSurroundings(read, home, tell);
  examineKit(read, tell);
  examineKeeping(home, output, tell);
  const { port, baud } = read.settings.values;
  const path = await examinePort(port, home, tell);
  if (path !== null) await examineLine(path, baud, seconds, output, tell);
  return exitCodeOf(findings);
}
