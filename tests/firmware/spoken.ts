// Reads what a simulated board said with the program's own reader, and checks what every line must hold to.
import { expect } from 'vitest';
import { decode } from '../../src/wire/decode.ts';
import type { Message } from '../../src/wire/message.ts';
import type { SaidLine } from './board.ts';

export interface Spoken {
  readonly message: Message;
  readonly fields: string;
  readonly fromUs: number;
}

/** Every line as a message; fails on a line that the program would not take, a gap in SEQ, or MS going back. */
export function spokenBy(lines: readonly SaidLine[]): readonly Spoken[] {
  const spoken = lines.map(({ text, fromUs }) => {
    const message = decode(text);
    if (message.kind === 'discarded' || message.kind === 'bare') throw new Error(`not a message: ${text}`);
    return { message, fields: text.slice(0, -5).split(',').slice(3).join(','), fromUs };
  });
  for (const [n, { message }] of spoken.entries()) {
    const before = spoken[n - 1]?.message;
    if (!before) continue;
    expect(message.seq).toBe((before.seq + 1) % 65_536);
    expect(message.ms).toBeGreaterThanOrEqual(before.ms);
  }
  return spoken;
}

export const faultsIn = (spoken: readonly Spoken[]): readonly string[] =>
  spoken.flatMap(({ message }) => (message.kind === 'fault' ? [message.code] : []));

export const readingsIn = (spoken: readonly Spoken[]): readonly Spoken[] =>
  spoken.filter(({ message }) => message.kind === 'caliper');

export const totalsIn = (spoken: readonly Spoken[]): readonly number[] =>
  spoken.flatMap(({ message }) => (message.kind === 'feed' ? [message.total] : []));
