// Which serial ports there are, which one has a bench board, and how well its line works.
import { forScreen } from '../core/safe-text.ts';
import { hostClock } from '../link/link.ts';
import { type FoundPort, findPorts, type PortsFound } from '../link/ports.ts';
import { type LineStats, type Probe, probePort } from '../link/probe.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { commandSettings } from './command-settings.ts';
import { settingOptions } from './options.ts';

interface TriedPort {
  readonly port: FoundPort;
  /** Undefined where ports were only listed. */
  readonly probe: Probe | undefined;
}

const JSON_VERSION = 1;

/** One port as an object: `kind` first, then `v`; counts are over the time of listening. */
function portObject({ port, probe }: TriedPort): Readonly<Record<string, unknown>> {
  const head = { kind: 'port', v: JSON_VERSION, path: port.path };
  const names = { stable: port.stable ?? null, maker: port.maker ?? null, serial: port.serial ?? null };
  if (!probe) return { ...head, state: 'not tried', ...names };
  if (probe.kind === 'refused') return { ...head, state: 'refused', why: probe.why, ...names };
  const { stats } = probe;
  const { board, versionRefused, readings, unchecked, lost, damaged, unknown, restarts } = stats;
  const version = versionRefused ? { otherVersion: versionRefused.theirs } : {};
  const counts = { readings, unchecked, lost, discarded: damaged, unknown, restarts };
  return { ...head, state: stateOf(stats), ...names, board, ...version, ...counts };
}

function stateOf(stats: LineStats): string {
  if (stats.versionRefused) return 'other version';
  if (stats.board) return 'speaks';
  if (stats.readings > 0) return stats.unchecked > 0 ? 'speaks unchecked' : 'speaks';
  return stats.damaged > 0 ? 'noise' : 'silent';
}

function portText({ port, probe }: TriedPort): string {
  const maker = port.maker === undefined ? '' : ` (${forScreen(port.maker)})`;
  const name = `${forScreen(port.path)}${maker}`;
  if (!probe) return name;
  return `${name}: ${probe.kind === 'refused' ? probe.why : statsText(probe.stats)}`;
}

function statsText(stats: LineStats): string {
  const counts = `${stats.readings} readings, ${stats.lost} lost, ${stats.damaged} damaged`;
  if (stats.versionRefused)
    return `a board with protocol version ${forScreen(stats.versionRefused.theirs)}, which this program can't read`;
  if (stats.board) {
    const { board, firmware, parts } = stats.board;
    return `board ${forScreen(board)}, firmware ${forScreen(firmware)}, with ${forScreen(parts.join(', '))}; ${counts}`;
  }
  if (stats.unchecked > 0)
    return `prints bare numbers (${counts}); no damage check, no lost-line count, no feed, no button`;
  if (stats.readings > 0) return `sends bench lines, but hasn't said which board it is; ${counts}`;
  if (stats.damaged > 0)
    return `something is sending, but not bench lines (${stats.damaged} lines dropped). Check the speed (--baud).`;
  return 'silent: no board, or a board that is off or at another speed';
}

/** The port named with `--port`, else every port that can be found, most likely first. */
async function portsToTry(typed: Typed): Promise<PortsFound> {
  const { port } = typed.options;
  return typeof port === 'string' ? { ports: [{ path: port }], unlisted: undefined } : await findPorts();
}

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const { values, errors } = commandSettings(typed, ['baud']);
  if (errors.length > 0) {
    for (const error of errors) output.message(`ports: ${error}`);
    return 2;
  }
  const { list, json } = typed.options;
  const { ports, unlisted } = await portsToTry(typed);
  if (unlisted !== undefined)
    output.message(
      `ports: the system's own list isn't available (${forScreen(unlisted)}), so /dev and /sys were searched instead.`,
    );
  const tried = await Promise.all(
    ports.map(async (port): Promise<TriedPort> => {
      const probe =
        list === true ? undefined : await probePort(port.path, { baud: values.baud, now: hostClock });
      return { port, probe };
    }),
  );
  for (const each of tried) output.data(json === true ? JSON.stringify(portObject(each)) : portText(each));
  if (tried.length === 0) output.data(json === true ? JSON.stringify(NO_PORTS) : NO_PORTS_TEXT);
  return exitCodeOf(tried, list === true);
}

const NO_PORTS = { kind: 'no-ports', v: JSON_VERSION };
const NO_PORTS_TEXT = 'No serial ports found. Plug the board in, or name its port with --port.';

/** 0 where a board speaks, or where ports were only listed; 1 where none speaks. */
function exitCodeOf(tried: readonly TriedPort[], listed: boolean): ExitCode {
  const speaks = tried.some(
    ({ probe }) => probe?.kind === 'listened' && !['noise', 'silent'].includes(stateOf(probe.stats)),
  );
  return listed || speaks ? 0 : 1;
}

export const portsCommand: CommandSpec = {
  name: 'ports',
  summary: 'list serial ports, and show which one has a bench board and how well its line works',
  options: [
    { flags: '--port <path>', about: 'try only this port' },
    ...settingOptions(['baud']),
    { flags: '--list', about: 'only list the ports; open none' },
    { flags: '--json', about: 'print one JSON object a line' },
  ],
  example: {
    line: 'ports --list',
    shows: 'every port that can be found, most likely first; without --list each one is opened and asked',
  },
  run,
};
