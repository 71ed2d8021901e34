// The virtual bench: a simulated turner, caliper, lathe and feed wheel behind a board that speaks the bench line.
// Everything follows from the seed, the scenes and the time it is given; it reads no clock and no chance of its own.
import type { ButtonName } from '../../core/bench/event.ts';
import { type Length, type LengthUnit, type Millis, millis, mm } from '../../core/units.ts';
import { encode, type Said } from '../../wire/encode.ts';
import { display, FRAME } from './caliper.ts';
import { createChance } from './chance.ts';
import { type Bench, movesOf } from './hand.ts';
import { freshWork } from './lathe.ts';
import type { Move } from './moves.ts';
import type { Scene } from './scene.ts';
import { type Turn, turnsOf } from './wheel.ts';

export const VIRTUAL_BOARD = 'virtual-1';
const FEED_EVERY = 1000;
/** One line in this many is damaged or lost on its way, so that the counts have something to show. */
const DAMAGED_ONE_IN = 220;
const LOST_ONE_IN = 400;
const FINGER = 90;

export interface Sent {
  readonly at: Millis;
  /** One line without its end, sometimes damaged. */
  readonly line: string;
}

export interface VirtualSettings {
  readonly seed: number;
  /** The true bore; drawn from the seed where none is given. */
  readonly bore?: Length;
  readonly unit?: LengthUnit;
  /** What the caliper shows with its jaws closed; drawn from the seed where none is given. */
  readonly zeroError?: Length;
  /** False for a line on which nothing is ever damaged or lost. */
  readonly noise?: boolean;
}

export interface VirtualBench {
  /** Lets so many milliseconds pass; gives what the board sent in them, in order, each at its own time. */
  advance(by: number): readonly Sent[];
  /** What the turner does from now on; the same scene again starts it anew. */
  follow(scene: Scene): void;
  /** Another piece of wood: a new bore, and a spigot not begun. */
  newBlank(): void;
  /** Presses one of the board's buttons and lets go of it. */
  press(button: ButtonName): void;
  /** The program asked who is there. */
  ask(): void;
  /** What only the simulation knows: for tests, and for showing how close the turner came. */
  truth(): { readonly bore: Length; readonly spigot: Length | undefined; readonly zeroError: Length };
}

interface Due {
  readonly at: number;
  readonly happens: () => void;
}

export function createVirtualBench(settings: VirtualSettings): VirtualBench {
  const chance = createChance(settings.seed);
  const bench: Bench = { chance, work: freshWork(chance, settings.bore) };
  const unit = settings.unit ?? 'mm';
  const zeroError = settings.zeroError ?? mm(Math.round(chance.spread(0.8)) / 100);
  let now = 0;
  let seq = 0;
  let detents = 0;
  let scene: Scene = { doing: 'rest' };
  let moves = movesOf(scene, bench, () => 60);
  let move: Move = { lasts: 0, opening: () => 60 };
  let moveBegan = 0;
  let sent: Sent[] = [];
  const due: Due[] = [];

  const at = (time: number, happens: () => void): void => {
    due.push({ at: time, happens });
    due.sort((a, b) => a.at - b.at);
  };

  const say = (said: Said): void => {
    const line = encode(said, seq++, now);
    const noisy = settings.noise !== false && said.kind === 'DI';
    if (noisy && chance.once(LOST_ONE_IN)) return;
    const arrived = noisy && chance.once(DAMAGED_ONE_IN) ? damaged(line, chance.share()) : line;
    sent.push({ at: millis(now), line: arrived });
  };

  const opening = (): number => move.opening(Math.min((now - moveBegan) / Math.max(move.lasts, 1), 1));

  const moveOn = (): void => {
    while (now >= moveBegan + move.lasts) {
      const ended = moveBegan + move.lasts;
      const next = moves.next();
      if (next.done) throw new TypeError('a scene has no last move');
      move = next.value;
      moveBegan = ended;
    }
  };

  const frame = (): void => {
    moveOn();
    say({ kind: 'DI', text: display(opening() + zeroError + chance.spread(0.002), unit), unit });
    at(now + FRAME + Math.round(chance.spread(2)), frame);
  };
  const feed = (): void => {
    say({ kind: 'FE', total: detents });
    at(now + FEED_EVERY, feed);
  };
  const turn = (turns: readonly Turn[], of: Scene): void => {
    const [first, ...rest] = turns;
    if (!first) return;
    at(now + first.after, () => {
      if (of !== scene) return;
      detents += first.by;
      say({ kind: 'FE', total: detents });
      turn(rest, of);
    });
  };
  const hello = (): void =>
    say({ kind: 'HI', firmware: '1.0.0', board: VIRTUAL_BOARD, parts: ['caliper', 'feed', 'button'] });

  at(3, hello);
  at(20, frame);
  at(40, feed);

  return {
    advance(by) {
      const until = now + by;
      for (let next = due[0]; next && next.at <= until; next = due[0]) {
        due.shift();
        now = next.at;
        next.happens();
      }
      now = until;
      const lines = sent;
      sent = [];
      return lines;
    },
    follow(next) {
      const left = opening();
      scene = { ...next };
      moves = movesOf(scene, bench, () => opening());
      move = { lasts: 0, opening: () => left };
      moveBegan = now;
      turn(turnsOf(scene, chance), scene);
    },
    newBlank() {
      bench.work = freshWork(chance, settings.bore);
    },
    press(button) {
      at(now, () => say({ kind: 'PB', button, down: true }));
      at(now + FINGER, () => say({ kind: 'PB', button, down: false }));
    },
    ask: () => at(now, hello),
    truth: () => ({
      bore: mm(bench.work.bore),
      spigot: bench.work.spigot === undefined ? undefined : mm(bench.work.spigot),
      zeroError,
    }),
  };
}

/** One bit of one byte turned over. */
function damaged(line: string, where: number): string {
  const place = Math.floor(where * line.length);
  const turned = String.fromCharCode(line.charCodeAt(place) ^ 0x04);
  return line.slice(0, place) + turned + line.slice(place + 1);
}
