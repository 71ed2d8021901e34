// What each key means, given what the bench shows: letters are words in a form or a note, and orders everywhere else.
import type { HandEvent } from '../core/bench/event.ts';
import type { Bench } from '../core/bench/state.ts';
import { ORDERS, TEACHING_ORDERS } from './key-table.ts';
import type { Key } from './keys.ts';

/** Characters that begin a number; the rest is shown as typed and judged when it is entered. */
const BEGINS = /^[0-9.,-]$/;

const isCounting = (bench: Bench): boolean =>
  bench.mode.kind === 'stage' && (bench.job?.stage.endsWith('thread') ?? false);

function letterAtStage(text: string, bench: Bench): HandEvent | undefined {
  if (bench.help) return text === 'q' || text === '?' ? ORDERS['?'] : undefined;
  if (bench.typed !== '') return { kind: 'typed', text };
  if (isCounting(bench) && (text === '+' || text === '-'))
    return { kind: 'detent-keyed', by: text === '+' ? 1 : -1 };
  if (BEGINS.test(text)) return { kind: 'typed', text };
  const letter = text.toLowerCase();
  return ORDERS[letter] ?? (bench.teaching ? TEACHING_ORDERS[letter] : undefined);
}

/** Words are being typed: every letter is text. */
const isWriting = ({ mode }: Bench): boolean =>
  mode.kind === 'form' ||
  mode.kind === 'note' ||
  (mode.kind === 'calibrate' && mode.calibrating.step === 'naming');

/** Arrows rock the virtual jaws. */
const isByKey = ({ mode, teaching }: Bench): boolean => mode.kind === 'practice' && teaching !== null;

/** The event a key is, or nothing where it means nothing. */
export function eventFor(key: Key, bench: Bench): HandEvent | undefined {
  switch (key.kind) {
    case 'text':
      return isWriting(bench) ? { kind: 'typed', text: key.text } : letterAtStage(key.text, bench);
    case 'paste':
      return bench.help ? undefined : { kind: 'typed', text: key.text };
    case 'enter':
      return { kind: 'entered' };
    case 'escape':
      return { kind: 'escaped' };
    case 'backspace':
    case 'delete':
      return { kind: 'erased' };
    case 'interrupt':
      return { kind: 'quit-asked' };
    case 'tab':
      // A caliper that types like a keyboard may end its number with a tab.
      if (!isWriting(bench) && bench.typed !== '') return { kind: 'entered' };
      return isWriting(bench) ? { kind: 'moved', by: 1 } : { kind: 'action', action: 'next' };
    case 'right':
      if (isByKey(bench)) return { kind: 'teaching-asked', order: 'jaws-right' };
      return isWriting(bench) ? { kind: 'moved', by: 1 } : { kind: 'action', action: 'next' };
    case 'left':
      if (isByKey(bench)) return { kind: 'teaching-asked', order: 'jaws-left' };
      return isWriting(bench) ? { kind: 'moved', by: -1 } : { kind: 'action', action: 'back' };
    case 'back-tab':
      return isWriting(bench) ? { kind: 'moved', by: -1 } : { kind: 'action', action: 'back' };
    case 'up':
      return { kind: 'moved', by: -1 };
    case 'down':
      return { kind: 'moved', by: 1 };
    case 'finish':
    case 'end':
    case 'page-down':
      return { kind: 'form-finished' };
    case 'home':
    case 'page-up':
    case 'suspend':
    case 'quit-signal':
      return undefined;
    default:
      return key satisfies never;
  }
}
