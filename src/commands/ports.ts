// Which serial ports there are, which one has a bench board and how well its line works, and which to use when none was named.
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { capitalised, forScreen } from '../core/safe-text.ts';
import type { Settings } from '../kit/settings.ts';
import { hostClock, type Link } from '../link/link.ts';
import { type FoundPort, findPorts, isLikely, type PortsFound } from '../link/ports.ts';
import { type LineStats, PROBE_PATIENCE, type Probe, probePort } from '../link/probe.ts';
import { SerialLink } from '../link/serial-link.ts';
import { type Home, writePrivately } from '../records/home.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { lineQuality } from './line-report.ts';
import { JSON_LINES, OptionReader, settingOptions } from './options.ts';
import { answer, endWith } from './output.ts';

type PortChoice =
  | { readonly kind: 'chosen'; readonly path: string }
  | { readonly kind: 'none'; readonly why: string };

const isOnUsb = (port: FoundPort): boolean => isLikely(port) || port.maker !== undefined;

/**
 * `last` if it is still there; else the only USB port. Without one it is the only port at all, but not for the bench: that
 * opens by itself, and a computer's own serial port seldom has a board on it. Pure.
 */
export function choosePort(found: readonly FoundPort[], last = '', mayBeBuiltIn = true): PortChoice {
  const known = found.filter(({ path, stable }) => path === last || stable === last);
  const onUsb = found.filter(isOnUsb);
  const candidates = known.length > 0 ? known : onUsb.length > 0 || !mayBeBuiltIn ? onUsb : found;
  const [only, second] = candidates;
  if (only && !second) return { kind: 'chosen', path: only.stable ?? only.path };
  if (!only) return { kind: 'none', why: NO_PORTS };
  const names = candidates.map((port) => forScreen(port.path)).join(', ');
  return { kind: 'none', why: `More than one port found (${names}). Choose one with --port.` };
}

const NO_PORTS =
  'No serial ports found. Plug the board in, or name its port with --port. Without a board, use the virtual bench.';

const lastPortFile = (home: Home): string => join(home.state, 'last-port');

/** The port that the bench opened last; empty where it never did. */
export function lastPort(home: Home): string {
  try {
    return readFileSync(lastPortFile(home), 'utf8').trim().slice(0, 400);
  } catch {
    return '';
  }
}

/** Remembering is a convenience: if the folder can't be written, only that is lost. */
function rememberPort(home: Home, path: string): void {
  if (path === lastPort(home)) return;
  try {
    mkdirSync(home.state, { recursive: true, mode: 0o700 });
    writePrivately(lastPortFile(home), `${path}\n`);
  } catch {
    return;
  }
}

type PortSettings = Pick<Settings, 'port' | 'baud'>;

function linkTo(home: Home, path: string, baud: number): Link {
  rememberPort(home, path);
  return new SerialLink({ path, baud });
}

function linkAmong(home: Home, found: readonly FoundPort[], baud: number): Link | null {
  const choice = choosePort(found, lastPort(home), false);
  return choice.kind === 'chosen' ? linkTo(home, choice.path, baud) : null;
}

/** The link to open at the start; null with no port, or with several and none of them known. */
export const findLink = async (home: Home, { port, baud }: PortSettings): Promise<Link | null> =>
  port === '' ? linkAmong(home, (await findPorts()).ports, baud) : linkTo(home, port, baud);

/** A board that was plugged in meanwhile; only folders are looked at, since this is asked every few seconds. */
export const seekLink = async (home: Home, { baud }: PortSettings): Promise<Link | null> =>
  linkAmong(home, (await findPorts(async () => [])).ports, baud);

/** One port as an object: `kind` first, then `v`; counts are over the time of listening. Only listed without a probe. */
function portObject({ path, stable, maker, serial }: FoundPort, probe: Probe | undefined) {
  const head = { kind: 'port', v: 1, path };
  const names = { stable: stable ?? null, maker: maker ?? null, serial: serial ?? null };
  if (!probe) return { ...head, state: 'not tried', ...names };
  if (probe.kind === 'refused') return { ...head, state: 'refused', why: probe.why, ...names };
  const { board, versionRefused, readings, unchecked, lost, damaged, unknown, restarts } = probe.stats;
  const version = versionRefused ? { otherVersion: versionRefused.theirs } : {};
  const counts = { readings, unchecked, lost, discarded: damaged, unknown, restarts };
  return { ...head, state: qualityOf(probe.stats).state, ...names, board, ...version, ...counts };
}

const qualityOf = (stats: LineStats) => lineQuality(stats, PROBE_PATIENCE / 1000);

function portText({ path, maker }: FoundPort, probe: Probe | undefined): string {
  const name = `${forScreen(path)}${maker === undefined ? '' : ` (${forScreen(maker)})`}`;
  if (!probe) return name;
  if (probe.kind === 'refused') return `${name}: ${probe.why}`;
  const { says, todo } = qualityOf(probe.stats);
  const advice = todo === undefined ? '' : `. ${capitalised(todo)}.`;
  return `${name}: ${says}${advice}`;
}

/** The port named with `--port`, else every port that can be found, most likely first. */
async function portsToTry({ options: { port } }: Typed): Promise<PortsFound> {
  return typeof port === 'string' ? { ports: [{ path: port }], unlisted: undefined } : await findPorts();
}

/** Ends with 0 where a board speaks, or where ports were only listed; with 1 where none speaks. */
async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const options = new OptionReader(typed);
  const { values } = options.settings(['baud']);
  if (options.errors.length > 0)
    return endWith(output, 2, ...options.errors.map((error) => `ports: ${error}`));
  const isListed = typed.options.list === true;
  const { ports, unlisted } = await portsToTry(typed);
  if (unlisted !== undefined)
    output.message(
      `ports: the system's own list isn't available (${forScreen(unlisted)}), so /dev and /sys were searched instead.`,
    );
  const settings = { baud: values.baud, now: hostClock };
  const probes = await Promise.all(isListed ? [] : ports.map(({ path }) => probePort(path, settings)));
  for (const [at, port] of ports.entries())
    answer(typed, output, portObject(port, probes[at]), [portText(port, probes[at])]);
  if (ports.length === 0) answer(typed, output, { kind: 'no-ports', v: 1 }, [NO_PORTS]);
  const speaks = probes.some(
    (probe) => probe.kind === 'listened' && !['noise', 'silent'].includes(qualityOf(probe.stats).state),
  );
  return isListed || speaks ? 0 : 1;
}

export const portsCommand: CommandSpec = {
  name: 'ports',
  summary: 'list serial ports, and show which one has a bench board and how well its line works',
  options: [
    { flags: '--port <path>', about: 'try only this port' },
    ...settingOptions(['baud']),
    { flags: '--list', about: 'only list the ports; open none' },
    JSON_LINES,
  ],
  example: {
    line: 'ports --list',
    shows: 'every port that can be found, most likely first; without --list each one is opened and asked',
  },
  run,
};
