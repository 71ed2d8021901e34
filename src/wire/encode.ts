// Lines written as a board writes them: for the virtual bench, and for tests.
import type { ButtonName } from '../core/bench/event.ts';
import type { LengthUnit } from '../core/units.ts';
import { crc16OfText } from './crc.ts';
import { VERSION } from './decode.ts';

/** What a board sends, before it is numbered and timed. */
export type BoardMessage =
  | {
      readonly kind: 'HI';
      readonly firmware: string;
      readonly board: string;
      readonly parts: readonly string[];
      readonly version?: string;
    }
  | { readonly kind: 'DI'; readonly text: string; readonly unit: LengthUnit }
  | { readonly kind: 'FE'; readonly total: number }
  | { readonly kind: 'PB'; readonly button: ButtonName; readonly down: boolean }
  | { readonly kind: 'FA'; readonly code: string };

/** `BODY*CCCC`, without its LF. */
export const sealed = (body: string): string =>
  `${body}*${crc16OfText(body).toString(16).toUpperCase().padStart(4, '0')}`;

function fields(message: BoardMessage): string {
  switch (message.kind) {
    case 'HI':
      return `${message.version ?? VERSION},${message.firmware},${message.board},${message.parts.join('+')}`;
    case 'DI':
      return `${message.text},${message.unit}`;
    case 'FE':
      return `${message.total}`;
    case 'PB':
      return `${message.button},${message.down ? 'down' : 'up'}`;
    case 'FA':
      return message.code;
    default:
      return message satisfies never;
  }
}

/** One line without its LF; `seq` and `ms` are taken modulo 65536 and 2^32, as the board counts them. */
export const encode = (message: BoardMessage, seq: number, ms: number): string =>
  sealed(`${message.kind},${seq % 0x10000},${ms % 0x100000000},${fields(message)}`);
