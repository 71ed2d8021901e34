// Every way out of the program: one restore, then the exit code that tells the shell what happened.
import { constants } from 'node:os';

const SIGNALS = ['SIGTERM', 'SIGINT', 'SIGHUP', 'SIGQUIT'] as const;

/**
 * Calls `restore` once when the program is ended by a signal, an uncaught error or `process.exit`, then exits with
 * 128 + the signal's number, or 1 after an error, whose text goes to `tell` when the terminal is a plain one again.
 * The returned function takes all of this off again, for a normal end.
 */
export function onLeaving(restore: () => void, tell: (text: string) => void): () => void {
  let restored = false;
  const once = (): void => {
    if (restored) return;
    restored = true;
    restore();
  };
  const onSignal = (signal: (typeof SIGNALS)[number]): void => {
    once();
    process.exit(128 + constants.signals[signal]);
  };
  const onError = (error: unknown): void => {
    once();
    tell(error instanceof Error ? (error.stack ?? error.message) : String(error));
    process.exit(1);
  };
  const ways = [
    ...SIGNALS.map((signal) => [signal, onSignal] as const),
    ['uncaughtException', onError] as const,
    ['unhandledRejection', onError] as const,
    ['exit', once] as const,
  ];
  for (const [way, listener] of ways) process.on(way, listener);
  return () => {
    for (const [way, listener] of ways) process.off(way, listener);
  };
}
