// What the kept image sends besides readings: hello, answers, silence, buttons, and why it restarted.
import { describe, expect, it } from 'vitest';
import golden from '../../shared/wire-lines.json' with { type: 'json' };
import { fastChanceFrom } from '../support/chance.ts';
import { button, started } from './board.ts';
import { faultsIn, faultsOf, messagesFrom, readingsIn, type Sent } from './messages.ts';
import { bounce } from './noise.ts';
import { CaliperWriter, NPN } from './waveform.ts';
import { QuadratureWheel } from './wheel.ts';

const hellos = (messages: readonly Sent[]): readonly Sent[] =>
  messages.filter(({ message }) => message.kind === 'hello');

describe('start', () => {
  it('sends HI first, then the feed total', () => {
    const board = started();
    expect(board.lines.map(({ text }) => text.split(',').slice(0, 2).join())).toEqual(['HI,0', 'FE,1']);
    const hello = { kind: 'hello', firmware: '0.2.0', parts: ['caliper', 'feed', 'button'] };
    expect(messagesFrom(board.lines)[0]?.message).toMatchObject({ ...hello, board: 'bench-01' });
  });

  it('sends the id that its facts give', () => {
    const [hello] = messagesFrom(started('bench-02').lines);
    expect(hello?.message).toMatchObject({ kind: 'hello', board: 'bench-02' });
  });

  it('loses the feed total in a restart, and SEQ and MS begin again', () => {
    const board = started();
    new QuadratureWheel(board, fastChanceFrom(1)).turned(5, 10_000);
    const before = board.lines.length;
    board.reset();
    board.run(20_000);
    const after = messagesFrom(board.lines.slice(before));
    expect(after.map(({ message }) => [message.kind, message.seq])).toEqual([
      ['hello', 0],
      ['feed', 1],
    ]);
    expect(after[1]?.message).toMatchObject({ total: 0 });
  });

  it('follows within a second when the main loop hangs, with the fault watchdog', () => {
    const board = started();
    const before = board.lines.length;
    board.hang();
    board.runUntil('a new HI', () => board.lines.slice(before).some(({ text }) => text.startsWith('HI,0,')));
    board.run(50_000);
    expect(faultsIn(messagesFrom(board.lines.slice(before)))).toEqual(['watchdog']);
  });
});

describe('the question', () => {
  it('is answered by HI as often as the golden lines say', () => {
    for (const { bytes, answers, note } of golden.asks) {
      const board = started();
      const before = hellos(messagesFrom(board.lines)).length;
      for (const part of bytes.split(/(?<=\n)/)) {
        board.feedText(part);
        board.run(part.length * 90 + 15_000);
      }
      expect(hellos(messagesFrom(board.lines)).length - before, note).toBe(answers);
    }
  });

  it('is still answered after a flood of bytes', () => {
    const board = started();
    board.feedText('\xff'.repeat(3000));
    board.run(300_000);
    board.feedText('\n?\n');
    board.run(20_000);
    expect(hellos(messagesFrom(board.lines))).toHaveLength(2);
  });
});

describe('the caliper', () => {
  it('is reported silent once while it sends nothing, and back before its first reading', () => {
    const board = started();
    board.run(8_000_000);
    expect(faultsOf(board)).toEqual(['caliper-silent']);
    const caliper = new CaliperWriter(board, NPN, fastChanceFrom(1));
    board.run(5_000);
    caliper.show({ steps: 5234 }, board.us);
    board.run(40_000);
    const last = messagesFrom(board.lines).slice(-2);
    expect(faultsIn(last)).toEqual(['caliper-back']);
    expect(readingsIn(last).map(({ fields }) => fields)).toEqual(['52.34,mm']);
    expect(last[1]?.message.kind).toBe('caliper');
  });

  it('is not called silent at eight frames a second, and is when they stop', () => {
    const board = started();
    const caliper = new CaliperWriter(board, NPN, fastChanceFrom(1));
    board.run(20_000);
    const before = faultsOf(board);
    for (let n = 0; n < 24; n++) {
      caliper.show({ steps: n + 1 }, board.us);
      board.run(125_000);
    }
    expect(faultsOf(board)).toEqual(before);
    board.run(1_000_000);
    expect(faultsOf(board).slice(before.length)).toEqual(['caliper-silent']);
  });
});

describe('the buttons', () => {
  it.each([1, 2, 3, 4])('report both edges of button %i once, however they bounce', (name) => {
    const board = started();
    const chance = fastChanceFrom(name);
    for (const high of [false, true]) {
      bounce(board, button(name), high, board.us, 9, chance);
      board.run(60_000);
    }
    const edges = messagesFrom(board.lines).filter(({ message }) => message.kind === 'button');
    expect(edges.map(({ fields }) => fields)).toEqual([`${name},down`, `${name},up`]);
  });
});
