// Twenty times killed outright, each in another moment of the same work: whatever the screen said was kept is there.
import { expect, test } from 'vitest';
import { FaultyBench } from '../support/faulty-bench.ts';

const SAID: readonly (readonly [words: string, kind: string])[] = [
  ['Bore kept.', 'bore-taken'],
  ['Reading kept.', 'hollow-measured'],
  ['Zero kept', 'zero-taken'],
  ['Trial kept.', 'trial-made'],
];

test.each(Array.from({ length: 20 }, (_, at) => at))('killed in moment %i', async (moment) => {
  const open = await FaultyBench.begun();
  const { device, eye } = open;
  const kept = new Set<string>(['job-begun']);
  eye.emulator.terminal.onWriteParsed(() => {
    for (const [words, kind] of SAID) if (eye.text().includes(words)) kept.add(kind);
  });
  await open.takesBore();
  // Work that goes on by itself: the kill falls after as many readings as this moment has.
  const work = async (): Promise<void> => {
    await open.goes('zero');
    await device.holds(0.01, 6);
    eye.press('enter');
    await open.goes('hollow');
    await device.holds(41.8, 6);
    eye.press('enter');
    await open.goes('trial');
    await eye.goes(['\r', 'Trial kept.']);
  };
  const beats = new Array<string>(1 + moment * 9).fill('');
  const killing = device.pair.play(7, beats).then(() => eye.signal('SIGKILL'));
  await Promise.race([work().catch(() => undefined), killing]);
  await killing;
  expect(await eye.ended()).toMatchObject({ signal: 9 });
  const { entries } = await open.kept();
  const facts = new Set(entries.map(({ fact }) => fact.kind));
  expect([...kept].filter((kind) => !facts.has(kind))).toEqual([]);
  const again = open.day.open();
  await again.untilShown(/◆/);
});
