// What is plugged in, which port speaks the bench line, and how well.

import { forScreen } from '../core/safe-text.ts';
import { settingOptions } from '../kit/settings.ts';
import { hostClock } from '../link/host-clock.ts';
import { type FoundPort, findPorts } from '../link/ports.ts';
import { type Probe, probePort } from '../link/probe.ts';
import { speaks, type Tally } from '../link/tally.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { heededSettings } from './heeded.ts';

interface Tried {
  readonly port: FoundPort;
  readonly probe: Probe | undefined;
}

const JSON_VERSION = 1;

/** One port as an object: `kind` first, then `v`; counts are over the while of listening. */
function portObject({ port, probe }: Tried): Readonly<Record<string, unknown>> {
  const head = { kind: 'port', v: JSON_VERSION, path: port.path };
  const names = { stable: port.stable ?? null, maker: port.maker ?? null, serial: port.serial ?? null };
  if (!probe) return { ...head, state: 'not tried', ...names };
  if (probe.kind === 'refused') return { ...head, state: 'refused', why: probe.why, ...names };
  const { heard } = probe;
  return { ...head, state: stateOf(heard), ...names, ...heard, board: heard.board ?? null };
}

function stateOf(heard: Tally): string {
  if (heard.otherVersion !== undefined) return 'other version';
  if (heard.board !== undefined) return 'speaks';
  if (heard.readings > 0) return heard.unchecked > 0 ? 'speaks unchecked' : 'speaks';
  return heard.discarded > 0 ? 'noise' : 'silent';
}

function portText({ port, probe }: Tried): string {
  const maker = port.maker === undefined ? '' : ` (${forScreen(port.maker)})`;
  const name = `${forScreen(port.path)}${maker}: `;
  if (!probe) return `${name}not tried`;
  if (probe.kind === 'refused') return `${name}${probe.why}`;
  return name + heardText(probe.heard);
}

function heardText(heard: Tally): string {
  const counts = `${heard.readings} readings, ${heard.lost} lost, ${heard.discarded} damaged`;
  if (heard.otherVersion !== undefined)
    return `a board that speaks protocol version ${forScreen(heard.otherVersion)}, which this program does not`;
  if (heard.board !== undefined) {
    const { board, firmware, parts } = heard.board;
    return `board ${forScreen(board)}, firmware ${forScreen(firmware)}, with ${forScreen(parts.join(', '))}; ${counts}`;
  }
  if (heard.unchecked > 0)
    return `prints bare numbers (${counts}): no damage check, no lost-line count, no feed, no button`;
  if (heard.readings > 0) return `speaks the bench line but has not said who it is; ${counts}`;
  if (heard.discarded > 0)
    return `something speaks, but no bench line (${heard.discarded} lines dropped): is the speed right? see --baud`;
  return 'silent: no board, or one that is off or at another speed';
}

/** `--port` alone is tried when named; else every port that may be a board's, most likely first. */
async function portsToTry(typed: Typed): Promise<readonly FoundPort[]> {
  const { port } = typed.options;
  return typeof port === 'string' ? [{ path: port }] : await findPorts();
}

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const { values, complaints } = heededSettings(typed, ['baud']);
  if (complaints.length > 0) {
    for (const complaint of complaints) output.message(`ports: ${complaint}`);
    return 2;
  }
  const listed = typed.options.list === true;
  const ports = await portsToTry(typed);
  const tried = await Promise.all(
    ports.map(async (port): Promise<Tried> => {
      const probe = listed ? undefined : await probePort(port.path, { baud: values.baud, now: hostClock });
      return { port, probe };
    }),
  );
  for (const each of tried)
    output.data(typed.options.json === true ? JSON.stringify(portObject(each)) : portText(each));
  if (tried.length === 0)
    output.message('ports: none is there. Plug the board in, or name its port with --port.');
  return verdict(tried, listed);
}

/** 0 where a board speaks, or where listing was all that was asked; 1 where none speaks. */
function verdict(tried: readonly Tried[], listed: boolean): ExitCode {
  const spoken = tried.some(({ probe }) => probe?.kind === 'listened' && speaks(probe.heard));
  return listed || spoken ? 0 : 1;
}

export const portsCommand: CommandSpec = {
  name: 'ports',
  summary: 'what is plugged in, which one speaks, how well',
  options: [
    { flags: '--port <path>', about: 'try only this one' },
    ...settingOptions(['baud']),
    { flags: '--list', about: 'only list; open and ask nothing' },
    { flags: '--json', about: 'one JSON object a line' },
  ],
  example: {
    line: 'ports --list',
    shows: 'every port that can be found, the most likely first; without --list each is opened and asked',
  },
  run,
};
