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

export interface Reconnect {
  readonly phase: Phase;
  /** True while the last thing the turner heard is that the port is open. */
  readonly up: boolean;
  /** The last refusal told, so that the same reason isn't told twice. */
  readonly refusal: string | undefined;
  /** How much silence it takes before the port is closed and opened again. */
  readonly patience: number;
}

export type ReconnectInput =
  | { readonly kind: 'started' }
  | { readonly kind: 'port-opened' }
  | { readonly kind: 'port-refused'; readonly why: string }
  | { readonly kind: 'bytes-heard' }
  | { readonly kind: 'port-lost'; readonly why: string }
  | { readonly kind: 'time-passed' }
  | { readonly kind: 'stopped' };

export type ReconnectEffect =
  | { readonly kind: 'open-port' }
  | { readonly kind: 'close-port' }
  | { readonly kind: 'ask-board' }
  | { readonly kind: 'look-for-port' }
  | { readonly kind: 'say-opened' }
  | { readonly kind: 'say-lost'; readonly why: string }
  | { readonly kind: 'say-refused'; readonly why: string };

export interface ReconnectStep {
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
const stay = (state: Reconnect): ReconnectStep => ({ state, effects: [] });

/** One input at a host time: the next state, and what to do. */
export function reconnect(state: Reconnect, input: ReconnectInput, now: Millis): ReconnectStep {
  switch (input.kind) {
    case 'started':
      return {
        state: { ...state, phase: { kind: 'opening', tries: 0 } },
        effects: [{ kind: 'open-port' }],
      };
    case 'port-opened':
      return opened(state, now);
    case 'port-refused':
      return refused(state, input.why, now);
    case 'bytes-heard':
      return heard(state, now);
    case 'port-lost':
      return lost(state, input.why, now);
    case 'time-passed':
      return passed(state, now);
    case 'stopped':
      return { state: AT_REST, effects: [{ kind: 'close-port' }] };
    default:
      return input satisfies never;
  }
}

function opened(state: Reconnect, now: Millis): ReconnectStep {
  if (state.phase.kind !== 'opening') return stay(state);
  const said: readonly ReconnectEffect[] = state.up ? [] : [{ kind: 'say-opened' }];
  const phase: Phase = { kind: 'open', heardAt: now, asked: false };
  return {
    state: { ...state, phase, up: true, refusal: undefined },
    effects: [...said, { kind: 'ask-board' }],
  };
}

function refused(state: Reconnect, why: string, now: Millis): ReconnectStep {
  if (state.phase.kind !== 'opening') return stay(state);
  const { tries } = state.phase;
  const phase: Phase = { kind: 'waiting', until: millis(now + retryDelay(tries)), tries: tries + 1 };
  const said: readonly ReconnectEffect[] = state.up
    ? [{ kind: 'say-lost', why }]
    : why === state.refusal
      ? []
      : [{ kind: 'say-refused', why }];
  return { state: { ...state, phase, up: false, refusal: why }, effects: said };
}

function heard(state: Reconnect, now: Millis): ReconnectStep {
  if (state.phase.kind !== 'open') return stay(state);
  const phase: Phase = { kind: 'open', heardAt: now, asked: false };
  return stay({ ...state, phase, patience: REOPEN_AFTER });
}

function lost(state: Reconnect, why: string, now: Millis): ReconnectStep {
  if (state.phase.kind !== 'open') return stay(state);
  const phase: Phase = { kind: 'waiting', until: millis(now + RETRY_FIRST), tries: 0 };
  return {
    state: { ...state, phase, up: false, patience: REOPEN_AFTER },
    effects: [{ kind: 'close-port' }, { kind: 'say-lost', why }],
  };
}

function passed(state: Reconnect, now: Millis): ReconnectStep {
  const { phase } = state;
  if (phase.kind === 'waiting' && now >= phase.until) {
    const opening: Phase = { kind: 'opening', tries: phase.tries };
    return { state: { ...state, phase: opening }, effects: [{ kind: 'open-port' }] };
  }
  return phase.kind === 'open' ? silence(state, phase, now) : stay(state);
}

/** As silence grows: check that the port is there, ask the board, then close and open, more patiently each time. */
function silence(state: Reconnect, phase: Extract<Phase, { kind: 'open' }>, now: Millis): ReconnectStep {
  const silent = now - phase.heardAt;
  if (silent >= state.patience) {
    const patience = Math.min(state.patience * 2, REOPEN_AT_MOST);
    return {
      state: { ...state, phase: { kind: 'opening', tries: 0 }, patience },
      effects: [{ kind: 'close-port' }, { kind: 'open-port' }],
    };
  }
  const look: readonly ReconnectEffect[] = silent >= LOOK_AFTER ? [{ kind: 'look-for-port' }] : [];
  if (silent < ASK_AFTER || phase.asked) return { state, effects: look };
  return {
    state: { ...state, phase: { ...phase, asked: true } },
    effects: [...look, { kind: 'ask-board' }],
  };
}
