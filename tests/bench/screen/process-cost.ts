// What a process has cost so far, from the kernel's own books.
import { readFileSync } from 'node:fs';

/** Clock ticks a second, as Linux has it everywhere (sysconf _SC_CLK_TCK; from memory). */
const TICKS = 100;

/** Seconds of processor time, user and system. */
export function cpuSeconds(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ');
  return (Number(fields[11]) + Number(fields[12])) / TICKS;
}

/** Resident memory in megabytes. */
export function residentMb(pid: number): number {
  const found = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return Number(found?.[1] ?? 0) / 1024;
}
