// How long until the program says something: the bench's first frame, `--version` and `fit`, as multiples of `node -e 0` in the same run.
import { spawnSync } from 'node:child_process';
import { medianOf } from '../../../src/core/statistics.ts';
import { freshFolder } from '../../support/fresh-folder.ts';
import { Eye, PROGRAM } from '../../support/terminal.ts';

function ran(...args: readonly string[]): number {
  const began = performance.now();
  spawnSync(process.execPath, args, { stdio: 'ignore' });
  return performance.now() - began;
}

async function painted(): Promise<number> {
  const home = freshFolder();
  const began = performance.now();
  const eye = new Eye({ args: [], env: { LIDWRIGHT_HOME: home } });
  let first = Number.NaN;
  eye.watch((arrivedAt) => {
    if (Number.isNaN(first) && eye.text().includes('to begin a job')) first = arrivedAt;
  });
  await eye.untilShown('to begin a job');
  await eye.close();
  return first - began;
}

const FIT = [PROGRAM, 'fit', '--bore', '50mm', '--pitch', '16tpi', '--depth', '1mm', '--json'];

/** Medians of interleaved rounds, as multiples of the bare runtime's. */
export async function measureStarts(rounds: number) {
  const [bare, version, fit, bench]: [number[], number[], number[], number[]] = [[], [], [], []];
  for (let round = 0; round < rounds; round++) {
    bare.push(ran('-e', '0'));
    version.push(ran(PROGRAM, '--version'));
    fit.push(ran(...FIT));
    bench.push(await painted());
  }
  const nodeMs = medianOf(bare);
  const over = (times: readonly number[]): number => medianOf(times) / nodeMs;
  return { nodeMs, bench: over(bench), version: over(version), fit: over(fit) };
}
