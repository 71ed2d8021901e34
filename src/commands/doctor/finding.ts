// What the doctor found of one thing: how it stands, in words, and what to do about it.
import type { ExitCode } from '../command.ts';

type State = 'ok' | 'attention' | 'bad';

export interface Finding {
  readonly what: string;
  readonly state: State;
  readonly says: string;
  /** What to do; nothing where all is well. */
  readonly todo?: string;
}

export const ok = (what: string, says: string): Finding => ({ what, state: 'ok', says });
export const attention = (what: string, says: string, todo: string): Finding => ({
  what,
  state: 'attention',
  says,
  todo,
});
export const bad = (what: string, says: string, todo: string): Finding => ({
  what,
  state: 'bad',
  says,
  todo,
});

/** 0 where all is well, 1 where something wants attention, 3 where something is in the way. */
export function exitCodeOf(findings: readonly Finding[]): ExitCode {
  if (findings.some(({ state }) => state === 'bad')) return 3;
  return findings.some(({ state }) => state === 'attention') ? 1 : 0;
}

/** The finding as lines of text; what to do stands under it. */
export const findingLines = ({ what, state, says, todo }: Finding): readonly string[] => {
  const indent = ' '.repeat(22);
  return [
    `${state.padEnd(10)} ${what.padEnd(11)}${says}`,
    ...(todo === undefined ? [] : [`${indent}do: ${todo}`]),
  ];
};

/** One object a line. */
export const findingJson = ({ what, state, says, todo }: Finding): string =>
  JSON.stringify({ kind: 'finding', v: 1, what, state, says, todo: todo ?? null });
