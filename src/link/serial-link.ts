// A link over a serial port that keeps itself up: opens, listens, notices when the port goes, and comes back.
import type { LinkEvent } from '../core/bench/event.ts';
import { forScreen } from '../core/safe-text.ts';
import type { Millis } from '../core/units.ts';
import { looksChecked } from '../wire/decode.ts';
import { createFramer } from '../wire/framing.ts';
import { explained } from './holders.ts';
import { hostClock } from './host-clock.ts';
import { type Link, type LinkListener, QUESTION } from './link.ts';
import { findPorts } from './ports.ts';
import { identityOf } from './presence.ts';
import { AT_REST, type ReconnectEffect, type ReconnectInput, reconnect } from './reconnect.ts';
import { type OpenPort, openPort } from './serial.ts';
import { createWhereabouts } from './whereabouts.ts';

export const DEFAULT_BAUD = 115_200;
/** A line that begins sooner than this after the opening may have begun before it: its beginning may be missing. */
const BEGUN_BEFORE = 300;
/** How often the machine is told that time passed. */
const BEAT = 250;

export interface SerialSettings {
  readonly path: string;
  readonly baud?: number;
  readonly now?: () => Millis;
  /** Every port there is now, for a board that comes back at another one. */
  readonly ports?: () => Promise<readonly string[]>;
  /** Told of each round of the machine, so that a test can count them. */
  readonly onRound?: (input: ReconnectInput['kind'], effects: readonly ReconnectEffect[]) => void;
}

const allPorts = async (): Promise<readonly string[]> => (await findPorts()).map((port) => port.path);

/** A link to the board at `path`. It never gives up by itself; only `close` ends it. */
export function createSerialLink(settings: SerialSettings): Link {
  const { path: home, baud = DEFAULT_BAUD, now = hostClock, ports = allPorts } = settings;
  const whereabouts = createWhereabouts(home, ports, baud, now);
  const framer = createFramer();
  let listener: LinkListener | undefined;
  let machine = AT_REST;
  let port: OpenPort | undefined;
  let path = home;
  let identity: string | undefined;
  let round = 0;
  let opening: Promise<void> = Promise.resolve();
  let closing: Promise<void> = Promise.resolve();
  let openedAt = now();
  let begunBefore: boolean | undefined;
  let beat: NodeJS.Timeout | undefined;

  const give = (input: ReconnectInput): void => {
    const { state, effects } = reconnect(machine, input, now());
    machine = state;
    settings.onRound?.(input.kind, effects);
    for (const effect of effects) perform(effect);
  };

  const perform = (effect: ReconnectEffect): void => {
    switch (effect.kind) {
      case 'open-port':
        opening = openNow(++round);
        return;
      case 'close-port':
        letGo();
        return;
      case 'ask-board':
        port?.send(QUESTION);
        return;
      case 'look-for-port':
        void look(round);
        return;
      case 'tell-opened':
        tell({ kind: 'link-opened', port: forScreen(path), heardAt: now() });
        return;
      case 'tell-lost':
        tell({ kind: 'link-lost', port: forScreen(path), why: effect.why, heardAt: now() });
        return;
      case 'tell-refused':
        tell({ kind: 'link-refused', port: forScreen(path), why: effect.why, heardAt: now() });
        return;
      default: {
        const never: never = effect;
        throw new TypeError(`no such effect: ${JSON.stringify(never)}`);
      }
    }
  };

  const tell = (event: LinkEvent): void => listener?.event(event);

  const bytes = (text: string): void => {
    const heardAt = now();
    begunBefore ??= heardAt - openedAt < BEGUN_BEFORE;
    framer.push(text, (line) => took(line, heardAt));
    // After the lines were taken in, however long that took: time spent on them is no silence of the board.
    give({ kind: 'bytes-heard' });
  };

  /** The tail of a line under way at the opening reads as another number, where no checksum tells. */
  const took = (line: string, heardAt: Millis): void => {
    const cut = begunBefore === true && !looksChecked(line);
    begunBefore = false;
    if (cut) listener?.unfinished?.(line, heardAt);
    else {
      whereabouts.notice(line);
      listener?.line(line, heardAt);
    }
  };

  /** Opens for round `mine`; a round that was overtaken meanwhile closes what it opened and says nothing. */
  const openNow = async (mine: number): Promise<void> => {
    await closing;
    const target = await whereabouts.next();
    const overtaken = (): boolean => mine !== round;
    try {
      const fresh = await openPort(target, baud, {
        bytes: (text) => overtaken() || bytes(text),
        gone: (why) => overtaken() || give({ kind: 'port-lost', why: `unplugged (${forScreen(why)})` }),
      });
      if (overtaken()) return await fresh.close();
      path = target;
      port = fresh;
      identity = undefined;
      openedAt = now();
      begunBefore = undefined;
      give({ kind: 'port-opened' });
    } catch (cause) {
      const why = await explained(target, cause);
      if (!overtaken()) give({ kind: 'port-refused', why });
      return;
    }
    const found = await identityOf(target);
    if (!overtaken()) identity = found;
    await whereabouts.settle();
  };

  const letGo = (): void => {
    round++;
    const tail = framer.end();
    if (tail !== '') listener?.unfinished?.(tail, now());
    if (port) closing = port.close();
    port = undefined;
  };

  /** A hung-up port may say nothing and keep the core busy: the device file shows that it is gone. */
  const look = async (mine: number): Promise<void> => {
    const there = await identityOf(path);
    if (mine === round && identity !== undefined && there !== identity)
      give({ kind: 'port-lost', why: 'unplugged (its device is gone)' });
  };

  return {
    name: home,
    open(hearer) {
      listener = hearer;
      beat = setInterval(() => give({ kind: 'time-passed' }), BEAT);
      give({ kind: 'started' });
    },
    ask() {
      port?.send(QUESTION);
    },
    async close() {
      clearInterval(beat);
      give({ kind: 'stopped' });
      listener = undefined;
      await opening;
      await closing;
    },
  };
}
