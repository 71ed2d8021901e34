// The patience of a serial link, on a clock that the test moves: what the turner hears, and how often anything is tried.
import { describe, expect, test } from 'vitest';
import { millis } from '../../src/core/units.ts';
import { AT_REST, type ReconnectEffect, type ReconnectInput, reconnect } from '../../src/link/reconnect.ts';

const BEAT = 250;

/** A machine, what it ordered so far, and time that passes in beats. */
function machine() {
  let state = AT_REST;
  let now = 0;
  const ordered: { at: number; effect: ReconnectEffect['kind'] }[] = [];
  const give = (input: ReconnectInput): readonly ReconnectEffect[] => {
    const step = reconnect(state, input, millis(now));
    state = step.state;
    for (const { kind } of step.effects) ordered.push({ at: now, effect: kind });
    return step.effects;
  };
  const pass = (
    ms: number,
    answer: (effect: ReconnectEffect) => ReconnectInput | undefined = () => undefined,
  ): void => {
    for (const until = now + ms; now < until; ) {
      now += BEAT;
      for (const effect of give({ kind: 'time-passed' })) {
        const reply = answer(effect);
        if (reply) give(reply);
      }
    }
  };
  const count = (kind: ReconnectEffect['kind']): number =>
    ordered.filter(({ effect }) => effect === kind).length;
  const times = (kind: ReconnectEffect['kind']): number[] =>
    ordered.filter(({ effect }) => effect === kind).map(({ at }) => at);
  return { give, pass, count, times, phase: () => state.phase.kind };
}
const kinds = (effects: readonly ReconnectEffect[]): string[] => effects.map(({ kind }) => kind);
const refuse = (effect: ReconnectEffect): ReconnectInput | undefined =>
  effect.kind === 'open-port' ? { kind: 'port-refused', why: 'not there' } : undefined;
const accept = (effect: ReconnectEffect): ReconnectInput | undefined =>
  effect.kind === 'open-port' ? { kind: 'port-opened' } : undefined;

test('opens at the start, says so, and asks which board it is', () => {
  const { give } = machine();
  expect(kinds(give({ kind: 'started' }))).toEqual(['open-port']);
  expect(kinds(give({ kind: 'port-opened' }))).toEqual(['say-opened', 'ask-board']);
});

describe('a port that is not there', () => {
  test('is tried at most once a second, for as long as it takes, and reported once', () => {
    const { give, pass, count } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-refused', why: 'not there' });
    pass(3_600_000, refuse);
    expect(count('open-port')).toBeGreaterThan(3000);
    expect(count('open-port')).toBeLessThanOrEqual(3605);
    expect(count('say-refused')).toBe(1);
  });
  test('another reason is reported as well', () => {
    const { give, pass, count } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-refused', why: 'not there' });
    pass(5000, (effect) =>
      effect.kind === 'open-port' ? { kind: 'port-refused', why: 'held elsewhere' } : undefined,
    );
    expect(count('say-refused')).toBe(2);
  });
});

describe('a port that goes', () => {
  test('is reported lost, tried again soon, and reported open when it is back', () => {
    const { give, pass, times } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-opened' });
    expect(kinds(give({ kind: 'port-lost', why: 'unplugged' }))).toEqual(['close-port', 'say-lost']);
    pass(1000, accept);
    expect(times('open-port')[1]).toBe(BEAT);
    expect(times('say-opened')).toHaveLength(2);
  });
  test('late bytes from a closed port are ignored', () => {
    const { give, phase } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-opened' });
    give({ kind: 'port-lost', why: 'unplugged' });
    for (const late of [
      { kind: 'port-lost', why: 'again' },
      { kind: 'bytes-heard' },
      { kind: 'port-opened' },
    ] as const)
      expect(give(late)).toEqual([]);
    expect(give({ kind: 'port-refused', why: 'late' })).toEqual([]);
    expect(phase()).toBe('waiting');
  });
});

describe('silence on an open port', () => {
  test('first looks, then asks once, then closes and opens, more and more patiently, and reports nothing', () => {
    const { give, pass, count, times } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-opened' });
    pass(3_600_000, accept);
    expect(times('look-for-port')[0]).toBe(BEAT);
    expect(times('ask-board').slice(0, 3)).toEqual([0, 2000, 4000]);
    expect(times('open-port').slice(0, 6)).toEqual([0, 4000, 12_000, 28_000, 60_000, 120_000]);
    expect(count('open-port')).toBeLessThan(70);
    expect(count('say-opened')).toBe(1);
    expect(count('say-lost')).toBe(0);
  });
  test('a byte ends it, and patience is short again', () => {
    const { give, pass, times } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-opened' });
    pass(30_000, accept);
    give({ kind: 'bytes-heard' });
    pass(4000, accept);
    expect(times('open-port').at(-1)).toBe(34_000);
  });
  test('a port that will not open again is lost then', () => {
    const { give, pass, count } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-opened' });
    pass(6000, refuse);
    expect(count('say-lost')).toBe(1);
    expect(count('say-refused')).toBe(0);
  });
  test('bytes that keep coming keep it from looking', () => {
    const { give, pass, count } = machine();
    give({ kind: 'started' });
    give({ kind: 'port-opened' });
    for (let second = 0; second < 60; second++) {
      pass(BEAT);
      give({ kind: 'bytes-heard' });
    }
    expect(count('ask-board')).toBe(1);
    expect(count('open-port')).toBe(1);
  });
});

test('when stopped, it closes and orders nothing more', () => {
  const { give, pass, phase } = machine();
  give({ kind: 'started' });
  give({ kind: 'port-opened' });
  expect(kinds(give({ kind: 'stopped' }))).toEqual(['close-port']);
  pass(60_000, () => {
    throw new Error('a stopped link ordered something');
  });
  expect(phase()).toBe('idle');
});
