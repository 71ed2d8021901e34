// A board that counts a feed while the job has none: said at once, set up with two questions, and used by the job on the bench.
import { describe, expect, test } from 'vitest';
import { sceneOf } from '../../src/screen/scenes/scene-of.ts';
import { Table, threaded } from '../support/bench.ts';

const { feed: _, ...unfed } = threaded;
const counting = (): Table => new Table(unfed).board(0).to('bore thread').feed(3);

describe('a board with a feed, a job with none', () => {
  test('is said at the thread, with the key that sets it up', () => {
    const { standing, next } = sceneOf(counting().bench);
    expect(standing?.word).toBe('FEED NOT SET UP');
    expect(next).toMatch(/^Press k/);
  });

  test('is set up with two questions, kept in the kit, and counted by from then on', () => {
    const table = counting();
    table.kitFeeds = [];
    table.do({ kind: 'calibrate-asked' }).type('3').type('0.2');
    table.do({ kind: 'typed', text: 'leadscrew' }, { kind: 'entered' });
    expect(table.feeds).toMatchObject([{ name: 'leadscrew', perDetent: 0.2 }]);
    expect(Number(table.feeds[0]?.standard)).toBeGreaterThan(0);
    expect(table.bench.job?.setup.feed).toMatchObject({ name: 'leadscrew', perDetent: 0.2 });
    table.act('keep').feed(4).feed(5);
    expect(sceneOf(table.bench).facts).toContainEqual({
      name: 'done',
      value: '2 of 5 detents',
    });
  });

  test('takes nothing from the kit once the job is closed, or has both threads chased by hand', () => {
    const closed = counting().to('record').act('keep').do({ kind: 'calibrate-asked' });
    expect([closed.bench.mode.kind, closed.kinds.includes('setup-changed')]).toEqual(['calibrate', false]);
    const chased = new Table({ ...unfed, byHand: true }).board(0).do({ kind: 'calibrate-asked' });
    expect([chased.bench.mode.kind, chased.kinds.includes('setup-changed')]).toEqual(['calibrate', false]);
  });

  test('uses the feed that the kit has already with one key', () => {
    const table = counting().do({ kind: 'calibrate-asked' });
    expect(table.bench.mode.kind).toBe('stage');
    expect(table.bench.job?.setup.feed?.name).toBe('cross slide');
  });
});
