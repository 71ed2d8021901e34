// `lidwright doctor`, check by check: each finding is printed as soon as it is known, the line's last, since it takes a while.
import { constants } from 'node:fs';
import about from '../../../package.json' with { type: 'json' };
import { parseCount, refusal } from '../../core/quantity.ts';
import { pathForScreen } from '../../core/safe-text.ts';
import { millis } from '../../core/units.ts';
import { type KitRead, readKit } from '../../kit/kit.ts';
import { kitTroubleText } from '../../kit/trouble.ts';
import { hostClock } from '../../link/link.ts';
import { portUsers } from '../../link/port-users.ts';
import { findPorts } from '../../link/ports.ts';
import { probePort } from '../../link/probe.ts';
import { type Home, homeOf } from '../../records/home.ts';
import { glyphsOf } from '../../screen/glyphs.ts';
import { colourDepthOf } from '../../screen/theme.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { choosePort } from '../port-choice.ts';
import { attention, bad, exitCodeOf, type Finding, findingJson, findingLines, ok } from './finding.ts';
import { judgeAccess, judgeLine, judgeUsers } from './port.ts';
import { judgeRecords, LARGE, sizeOfRecords } from './records.ts';
import {
  accessTo,
  freeBytes,
  judgeClock,
  judgeColour,
  judgeDisk,
  judgeGlyphs,
  judgeRuntime,
  judgeTerminal,
  may,
  nearestFolder,
  newestOf,
} from './surroundings.ts';

const LONGEST = 600;

type Tell = (finding: Finding) => void;

const leastNode = about.engines.node.replace(/^\D*/, '');

function examineSurroundings({ settings }: KitRead, home: Home, tell: Tell): void {
  const { columns, rows, isTTY } = process.stdout;
  tell(judgeRuntime(process.versions.node, leastNode));
  tell(judgeTerminal({ isTerminal: isTTY === true, columns: columns ?? 0, rows: rows ?? 0 }));
  tell(judgeColour(colourDepthOf(process.env)));
  tell(judgeGlyphs(settings.values.glyphs, glyphsOf(process.env)));
  const written = newestOf([
    { what: 'this program', path: process.argv[1] ?? '' },
    { what: 'the job database', path: home.database },
  ]);
  tell(judgeClock(Date.now(), written));
}

function examineKit(read: KitRead, tell: Tell): void {
  const { kit, troubles } = read;
  for (const trouble of troubles)
    tell(attention('kit', kitTroubleText(trouble), '`lidwright kit where` shows which values count'));
  if (troubles.length > 0) return;
  const [caliper, cutter, feed] = [kit.calipers[0], kit.cutters[0], kit.feeds[0]];
  tell(
    ok(
      'kit',
      `in use: ${[caliper, cutter, feed].flatMap((item) => (item ? [`"${item.name}"`] : [])).join(', ')}`,
    ),
  );
}

function examineKeeping(home: Home, output: Output, tell: Tell): void {
  const size = sizeOfRecords(home.database);
  if (size > LARGE) output.message(`Checking ${(size / 1024 / 1024).toFixed(0)} MiB of records ...`);
  tell(judgeRecords(home.database));
  const folder = nearestFolder(home.data);
  const free = freeBytes(folder);
  if (free === undefined) tell(ok('disk', 'this system does not say how much is free'));
  else tell(judgeDisk(pathForScreen(folder), free, may(folder, constants.W_OK)));
}

/** The port to check; null, after a finding that says why, without one. */
async function examinePort(named: string, tell: Tell): Promise<string | null> {
  const { ports: found } = await findPorts();
  const choice = named === '' ? choosePort(found) : ({ kind: 'chosen', path: named } as const);
  if (choice.kind === 'none') {
    tell(attention('port', choice.why, 'without a board, type the readings or use the virtual bench'));
    return null;
  }
  const access = accessTo(choice.path);
  if (!access) {
    tell(
      bad(
        'port',
        `${pathForScreen(choice.path)} does not exist`,
        '`lidwright ports` lists what is plugged in',
      ),
    );
    return null;
  }
  tell(ok('port', `${pathForScreen(choice.path)}, one of ${Math.max(found.length, 1)} found`));
  const finding = judgeAccess(access);
  tell(finding);
  return finding.state === 'ok' ? choice.path : null;
}

async function examineLine(
  path: string,
  baud: number,
  seconds: number,
  output: Output,
  tell: Tell,
): Promise<void> {
  const held = judgeUsers(path, await portUsers(path));
  tell(held);
  if (held.state !== 'ok') return;
  output.message(`Listening for ${seconds} s. Move the caliper, and turn the feed if you have one ...`);
  const probe = await probePort(path, { baud, now: hostClock, patience: millis(seconds * 1000) });
  tell(judgeLine(probe, seconds));
}

export async function examine(typed: Typed, output: Output): Promise<ExitCode> {
  const seconds = parseCount(String(typed.options.for ?? '10'), 1, LONGEST);
  if (!seconds.ok) {
    output.message(refusal('--for', seconds));
    return 2;
  }
  const findings: Finding[] = [];
  const tell: Tell = (finding) => {
    findings.push(finding);
    const lines = typed.options.json === true ? [findingJson(finding)] : findingLines(finding);
    for (const line of lines) output.data(line);
  };
  const home = homeOf(process.env);
  const { port, baud, glyphs } = typed.options;
  const read = readKit(home, { flags: { port, baud, glyphs }, env: process.env });
  examineSurroundings(read, home, tell);
  examineKit(read, tell);
  examineKeeping(home, output, tell);
  const { values } = read.settings;
  const path = await examinePort(values.port, tell);
  if (path !== null) await examineLine(path, values.baud, seconds.value, output, tell);
  return exitCodeOf(findings);
}
