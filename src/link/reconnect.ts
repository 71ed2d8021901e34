// When to open, ask, close and open again: a pure machine, so that its patience can be tested without a clock.
import { type Millis, millis } from '../core/units.ts';

/** After this much silence the board is asked. The same two seconds that the wire calls silence. */
const ASK_AFTER = 2000;
/** After this much silence the port is closed and opened again; doubled each time that brought nothing. */
const REOPEN_AFTER = 4000;
const REOPEN_AT_MOST = 60_000;
/** From this much silence on, each beat checks whether the port is still there. */
const LOOK_AFTER = 200;
const RETRY_FIRST = 125;
const RETRY_AT_MOST = 1000;

type Phase =
  | { readonly kind: 'idle' }
  | { readonly kind: 'waiting'; readonly until: Millis; readonly tries: number }
  | { readonly kind: 'opening'; readonly tries: number }
  | { readonly kind: 'open'; readonly heardAt: Millis; readonly asked: boolean };

interface Reconnect {
  readonly phase: Phase;
  /** True while the last thing the turner heard is that the port is open. */
  readonly up: boolean;
  /** The last refusal told, so that the same reason isn't told twice. */
  readonly refusal: string | undefined;
  /** How much silence it takes before the port is closed and opened again. */
  readonly patience: number;
}

export type ReconnectInput =
  | { readonly kind: 'started' | 'port-opened' | 'bytes-heard' | 'time-passed' | 'stopped' }
  | { readonly kind: 'port-refused' | 'port-lost'; readonly why: string };

/** What to do about the port. */
export type PortOrder = 'open-port' | 'close-port' | 'ask-board' | 'look-for-port';
/** What to tell the turner; the port's name and the time are the link's to add. */
type News =
  | { readonly kind: 'link-opened' }
  | { readonly kind: 'link-lost' | 'link-refused'; readonly why: string };
export type ReconnectEffect = PortOrder | News;

interface ReconnectStep {
  readonly state: Reconnect;
  readonly effects: readonly ReconnectEffect[];
}

export const AT_REST: Reconnect = {
  phase: { kind: 'idle' },
  up: false,
  refusal: undefined,
  patience: REOPEN_AFTER,
};

const retryDelay = (tries: number): number => Math.min(RETRY_FIRST * 2 ** Math.min(tries, 10), RETRY_AT_MOST);
const opening = (tries = 0): Phase => ({ kind: 'opening', tries });

const change = (
  state: Reconnect,
  changed: Partial<Reconnect>,
  ...effects: readonly ReconnectEffect[]
): ReconnectStep => ({ state: { ...state, ...changed }, effects });

/** One input at a host time: the next state, and what to do. */
export function reconnect(state: Reconnect, input: ReconnectInput, now: Millis): ReconnectStep {
  const { phase } = state;
  switch (input.kind) {
    case 'started':
      return change(state, { phase: opening() }, 'open-port');
    case 'stopped':
      return change(AT_REST, {}, 'close-port');
    case 'port-opened':
      return phase.kind === 'opening' ? opened(state, now) : change(state, {});
    case 'port-refused':
      return phase.kind === 'opening' ? refused(state, phase.tries, input.why, now) : change(state, {});
    case 'bytes-heard':
      return phase.kind === 'open' ? change(state, heardAt(now)) : change(state, {});
    case 'port-lost':
      return phase.kind === 'open' ? lost(state, input.why, now) : change(state, {});
    case 'time-passed':
      if (phase.kind === 'open') return silence(state, phase, now);
      if (phase.kind !== 'waiting' || now < phase.until) return change(state, {});
      return change(state, { phase: opening(phase.tries) }, 'open-port');
    default:
      return input satisfies never;
  }
}

const heardAt = (now: Millis) =>
  ({ phase: { kind: 'open', heardAt: now, asked: false }, patience: REOPEN_AFTER }) as const;

function opened(state: Reconnect, now: Millis): ReconnectStep {
  const { phase } = heardAt(now);
  const news: readonly News[] = state.up ? [] : [{ kind: 'link-opened' }];
  return change(state, { phase, up: true, refusal: undefined }, ...news, 'ask-board');
}

function refused(state: Reconnect, tries: number, why: string, now: Millis): ReconnectStep {
  const phase: Phase = { kind: 'waiting', until: millis(now + retryDelay(tries)), tries: tries + 1 };
  const news: readonly News[] =
    !state.up && why === state.refusal ? [] : [{ kind: state.up ? 'link-lost' : 'link-refused', why }];
  return change(state, { phase, up: false, refusal: why }, ...news);
}

function lost(state: Reconnect, why: string, now: Millis): ReconnectStep {
  const phase: Phase = { kind: 'waiting', until: millis(now + RETRY_FIRST), tries: 0 };
  return change(state, { phase, up: false, patience: REOPEN_AFTER }, 'close-port', {
    kind: 'link-lost',
    why,
  });
}

/** As silence grows: check that the port is there, ask the board, then close and open, more patiently each time. */
function silence(state: Reconnect, phase: Extract<Phase, { kind: 'open' }>, now: Millis): ReconnectStep {
  const silent = now - phase.heardAt;
  if (silent >= state.patience) {
    const patience = Math.min(state.patience * 2, REOPEN_AT_MOST);
    return change(state, { phase: opening(), patience }, 'close-port', 'open-port');
  }
  const look: readonly PortOrder[] = silent >= LOOK_AFTER ? ['look-for-port'] : [];
  if (silent < ASK_AFTER || phase.asked) return change(state, {}, ...look);
  return change(state, { phase: { ...phase, asked: true } }, ...look, 'ask-board');
}
