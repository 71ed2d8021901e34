// Reads what a simulated board sent with the program's own reader, and checks the rules of every line.
import { decode, type Message } from '../../src/wire/decode.ts';
import type { PlannedBoard, SentLine } from './planned-board.ts';

export interface Sent {
  readonly message: Message;
  readonly fields: string;
  readonly fromUs: number;
}

/** Every line as a message; fails on a line that the program would refuse, a gap in SEQ, or MS going back. */
export function messagesFrom(lines: readonly SentLine[]): readonly Sent[] {
  const messages = lines.map(({ text, fromUs }) => {
    const message = decode(text);
    if (message.kind === 'discarded' || message.kind === 'bare') throw new Error(`not a message: ${text}`);
    return { message, fields: text.slice(0, -5).split(',').slice(3).join(','), fromUs };
  });
  for (const [n, { message }] of messages.entries()) {
    const before = messages[n - 1]?.message;
    if (!before) continue;
    if (message.seq !== (before.seq + 1) % 65_536 || message.ms < before.ms)
      throw new Error(`SEQ ${before.seq} at ${before.ms} ms is followed by ${message.seq} at ${message.ms}`);
  }
  return messages;
}

export const faultsIn = (messages: readonly Sent[]): readonly string[] =>
  messages.flatMap(({ message }) => (message.kind === 'fault' ? [message.code] : []));

export const readingsIn = (messages: readonly Sent[]): readonly Sent[] =>
  messages.filter(({ message }) => message.kind === 'caliper');

export const totalsIn = (messages: readonly Sent[]): readonly number[] =>
  messages.flatMap(({ message }) => (message.kind === 'feed' ? [message.total] : []));

/** What a board has said so far: all its feed totals, and all its faults. */
export const totalsOf = ({ lines }: PlannedBoard): readonly number[] => totalsIn(messagesFrom(lines));
export const faultsOf = ({ lines }: PlannedBoard): readonly string[] => faultsIn(messagesFrom(lines));
