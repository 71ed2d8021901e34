// The second board: the same core on an RP2040, its kept image run from the first byte of flash, boot stage included.
import { describe, expect, it } from 'vitest';
import { fastChanceFrom } from '../support/chance.ts';
import { faultsIn, faultsOf, messagesFrom, readingsIn, totalsOf } from './messages.ts';
import { NoisyLeads } from './noise.ts';
import type { Pin } from './planned-board.ts';
import { SimulatedRp2040 } from './rp2040-board.ts';
import { CaliperWriter, fieldsOf, LONGEST } from './waveform.ts';
import { QuadratureWheel } from './wheel.ts';

const pin = (bit: number): Pin => ({ port: 'D', bit });
const NPN = { clock: pin(2), data: pin(3), inverted: true };
const [FEED_A, FEED_B, BUTTON_1] = [pin(4), pin(5), pin(6)];

function started(): SimulatedRp2040 {
  const board = new SimulatedRp2040('bench-03');
  board.run(20_000);
  return board;
}

describe('the RP2040', () => {
  it('starts with HI and the feed total, and answers the question', () => {
    const board = started();
    board.feedText('?\n');
    board.run(5_000);
    expect(board.lines.map(({ text }) => text.split(',')[0])).toEqual(['HI', 'FE', 'HI']);
    expect(messagesFrom(board.lines)[0]?.message).toMatchObject({ board: 'bench-03', firmware: '0.2.0' });
  });

  it.each([
    ['no noise', () => {}],
    [
      'spikes of 3 us on both leads, 8,000 a second',
      (leads: NoisyLeads, us: number) =>
        leads.spike({ pins: [NPN.clock, NPN.data], widthUs: 3, perSecond: 8_000, even: true }, us),
    ],
  ] as const)('reads every frame with %s', (_, noise) => {
    const board = started();
    const chance = fastChanceFrom(5);
    const leads = new NoisyLeads(board, chance);
    const caliper = new CaliperWriter(leads, NPN, chance);
    board.run(10_000);
    noise(leads, 30 * 25_000);
    const shown = Array.from({ length: 30 }, () => ({ steps: 1 + chance.below(LONGEST.mm), negative: true }));
    for (const value of shown) {
      caliper.show(value, board.us + 100);
      board.run(25_000);
    }
    expect(readingsIn(messagesFrom(board.lines)).map(({ fields }) => fields)).toEqual(shown.map(fieldsOf));
  });

  it('counts an encoder of 600 lines exactly, to and fro, and reports one that is too fast', () => {
    const board = started();
    const wheel = new QuadratureWheel(board, fastChanceFrom(1), [FEED_A, FEED_B]);
    const turn = (edges: number, edgeUs: number): void => wheel.turned(edges / 4, 4 * edgeUs);
    turn(24 * 30, 100);
    expect(totalsOf(board).at(-1)).toBe(30);
    turn(-24 * 47, 40);
    expect(totalsOf(board).at(-1)).toBe(-17);
    expect(faultsOf(board)).not.toContain('feed-overrun');
    turn(240, 16);
    expect(faultsOf(board)).toContain('feed-overrun');
  });

  it('reports both edges of a button, and the watchdog after a hang', () => {
    const board = started();
    for (const high of [false, true]) {
      board.drive(BUTTON_1, high);
      board.run(30_000);
    }
    const edges = messagesFrom(board.lines).filter(({ message }) => message.kind === 'button');
    expect(edges.map(({ fields }) => fields)).toEqual(['1,down', '1,up']);
    board.lines.length = 0;
    board.hang();
    board.run(200_000);
    const after = messagesFrom(board.lines);
    expect(after[0]?.message.kind).toBe('hello');
    expect(faultsIn(after)).toEqual(['watchdog']);
  });
});
