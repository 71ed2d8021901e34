// Processor time of this process, and of a running program as the kernel counts it; and whether a process is still there. The
// second and third are for Linux only: /proc.
import { existsSync, readFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';

/** What a figure was measured on. */
export const machine = (): string =>
  `Node ${process.version}, ${cpus().length} cores, load ${loadavg()[0]?.toFixed(1)}`;

/** Processor time of this process in milliseconds, so that a busy machine changes nothing. */
export function processorMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** Fields of /proc/<pid>/stat after the name in brackets, from the state on (proc(5), from memory). */
function fieldsOf(pid: number): readonly string[] {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  return stat.slice(stat.lastIndexOf(')') + 2).split(' ');
}

/** Ticks (of 10 ms as a rule) that the process has used so far, in user and system mode. */
export function ticksOf(pid: number): number {
  const fields = fieldsOf(pid);
  return Number(fields[11]) + Number(fields[12]);
}

/** Clock ticks a second, as Linux has it everywhere (sysconf _SC_CLK_TCK; from memory). */
const TICKS = 100;

/** Seconds of processor time, user and system. */
export const cpuSeconds = (pid: number): number => ticksOf(pid) / TICKS;

/** Resident memory in megabytes. */
export function residentMb(pid: number): number {
  const found = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return Number(found?.[1] ?? 0) / 1024;
}

/** False once the process has ended, also while nobody has collected it. */
export function isRunning(pid: number): boolean {
  try {
    return existsSync(`/proc/${pid}`) && fieldsOf(pid)[0] !== 'Z';
  } catch {
    return false;
  }
}

/** The first child of a process, such as the program that a shell runs. */
export const childOf = (pid: number): number =>
  Number(readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ')[0]);
