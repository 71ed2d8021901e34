// The patience of a serial link, on a clock that the test moves: what the turner hears, and how often anything is tried.
import { describe, expect, test } from 'vitest';
import { millis } from '../../src/core/units.ts';
import { AT_REST, type ReconnectInput, reconnect } from '../../src/link/reconnect.ts';

const BEAT = 250;
const REFUSED: ReconnectInput = { kind: 'port-refused', why: 'not there' };
const OPENED: ReconnectInput = { kind: 'port-opened' };

/** A machine that was started and heard this of the port; when it ordered what, and time that passes in beats. */
function started(first: ReconnectInput) {
  let state = AT_REST;
  let now = 0;
  const ordered: { readonly at: number; readonly what: string }[] = [];
  const give = (input: ReconnectInput): readonly string[] => {
    const step = reconnect(state, input, millis(now));
    state = step.state;
    const orders = step.effects.map((effect) => (typeof effect === 'string' ? effect : effect.kind));
    ordered.push(...orders.map((what) => ({ at: now, what })));
    return orders;
  };
  /** Lets time pass; each time the port is to be opened, this comes of it. */
  const pass = (ms: number, opening?: ReconnectInput): void => {
    for (const until = now + ms; now < until; ) {
      now += BEAT;
      if (give({ kind: 'time-passed' }).includes('open-port') && opening) give(opening);
    }
  };
  const times = (order: string): number[] => ordered.flatMap(({ at, what }) => (what === order ? [at] : []));
  give({ kind: 'started' });
  give(first);
  return { give, pass, times, ordered, phase: () => state.phase.kind };
}

test('opens at the start, says so, and asks which board it is', () => {
  expect(started(OPENED).ordered.map(({ what }) => what)).toEqual(['open-port', 'link-opened', 'ask-board']);
});

describe('a port that is not there', () => {
  test('is tried at most once a second, for as long as it takes, and reported once', () => {
    const { pass, times } = started(REFUSED);
    pass(3_600_000, REFUSED);
    expect(times('open-port').length).toBeGreaterThan(3000);
    expect(times('open-port').length).toBeLessThanOrEqual(3605);
    expect(times('link-refused')).toHaveLength(1);
  });
  test('another reason is reported as well', () => {
    const { pass, times } = started(REFUSED);
    pass(5000, { kind: 'port-refused', why: 'held elsewhere' });
    expect(times('link-refused')).toHaveLength(2);
  });
});

describe('a port that goes', () => {
  test('is reported lost, tried again soon, and reported open when it is back', () => {
    const { give, pass, times } = started(OPENED);
    expect(give({ kind: 'port-lost', why: 'unplugged' })).toEqual(['close-port', 'link-lost']);
    pass(1000, OPENED);
    expect(times('open-port')[1]).toBe(BEAT);
    expect(times('link-opened')).toHaveLength(2);
  });
  test('late news of a closed port is ignored', () => {
    const { give, phase } = started(OPENED);
    give({ kind: 'port-lost', why: 'unplugged' });
    const late: ReconnectInput[] = [
      { kind: 'port-lost', why: 'again' },
      { kind: 'bytes-heard' },
      OPENED,
      REFUSED,
    ];
    expect(late.flatMap(give)).toEqual([]);
    expect(phase()).toBe('waiting');
  });
});

describe('silence on an open port', () => {
  test('first looks, then asks once, then closes and opens, more and more patiently, and reports nothing', () => {
    const { pass, times } = started(OPENED);
    pass(3_600_000, OPENED);
    expect(times('look-for-port')[0]).toBe(BEAT);
    expect(times('ask-board').slice(0, 3)).toEqual([0, 2000, 4000]);
    expect(times('open-port').slice(0, 6)).toEqual([0, 4000, 12_000, 28_000, 60_000, 120_000]);
    expect(times('open-port').length).toBeLessThan(70);
    expect(times('link-opened')).toHaveLength(1);
    expect(times('link-lost')).toEqual([]);
  });
  test('a byte ends it, and patience is short again', () => {
    const { give, pass, times } = started(OPENED);
    pass(30_000, OPENED);
    give({ kind: 'bytes-heard' });
    pass(4000, OPENED);
    expect(times('open-port').at(-1)).toBe(34_000);
  });
  test('a port that will not open again is lost then', () => {
    const { pass, times } = started(OPENED);
    pass(6000, REFUSED);
    expect(times('link-lost')).toHaveLength(1);
    expect(times('link-refused')).toEqual([]);
  });
  test('bytes that keep coming keep it from asking and opening', () => {
    const { give, pass, times } = started(OPENED);
    for (let beat = 0; beat < 60; beat++) {
      pass(BEAT);
      give({ kind: 'bytes-heard' });
    }
    expect([times('ask-board'), times('open-port')]).toEqual([[0], [0]]);
  });
});

test('when stopped, it closes and orders nothing more', () => {
  const { give, pass, ordered, phase } = started(OPENED);
  expect(give({ kind: 'stopped' })).toEqual(['close-port']);
  const before = ordered.length;
  pass(60_000);
  expect(ordered).toHaveLength(before);
  expect(phase()).toBe('idle');
});
