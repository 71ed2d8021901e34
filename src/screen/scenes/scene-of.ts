// The scene of a bench: which one is on, and what goes over any of them: typed numbers, help.
import type { Stage } from '../../core/bench/entry.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import type { Bench } from '../../core/bench/state.ts';
import { pauseKey, typingKeys } from '../key-table.ts';
import type { Scene } from '../scene.ts';
import { safe } from '../text.ts';
import { boreSizeScene } from './bore-size.ts';
import { calibrateScene } from './calibrate.ts';
import { hollowScene } from './hollow.ts';
import { formScene, helpScene, jobsScene, noteScene, welcomeScene } from './other-scenes.ts';
import { practiceScene } from './practice.ts';
import { recordScene } from './record.ts';
import { spigotScene } from './spigot.ts';
import { threadScene } from './thread.ts';
import { trialScene } from './trial.ts';
import { zeroScene } from './zero.ts';

export function sceneOf(bench: Bench): Scene {
  if (bench.help) return helpScene(bench);
  switch (bench.mode.kind) {
    case 'welcome':
      return withTyping(bench, welcomeScene(bench));
    case 'form':
      return formScene(bench.mode.form);
    case 'jobs':
      return jobsScene(bench, bench.mode.jobs, bench.mode.chosen);
    case 'note':
      return noteScene(bench.mode.text);
    case 'calibrate':
      return withTyping(bench, calibrateScene(bench, bench.mode.calibrating));
    case 'practice':
      return withTyping(bench, withPause(bench, practiceScene(bench, bench.mode.practice)));
    case 'stage': {
      const { job } = bench;
      if (!job) return welcomeScene(bench);
      return withTyping(bench, withPause(bench, STAGE_SCENES[job.stage]({ ...bench, job })));
    }
    default:
      return bench.mode satisfies never;
  }
}

const STAGE_SCENES: { readonly [stage in Stage]: (bench: WithJob) => Scene } = {
  zero: zeroScene,
  hollow: hollowScene,
  'bore thread': (bench) => threadScene(bench, 'female'),
  'bore size': boreSizeScene,
  spigot: spigotScene,
  'spigot thread': (bench) => threadScene(bench, 'male'),
  trial: trialScene,
  record: recordScene,
};

/** The key that lets time go on comes first; the one that stops it last. */
function withPause({ teaching }: Bench, scene: Scene): Scene {
  if (!teaching) return scene;
  const key = pauseKey(teaching.paused);
  return { ...scene, keys: teaching.paused ? [key, ...scene.keys] : [...scene.keys, key] };
}

const withTyping = (bench: Bench, scene: Scene): Scene =>
  bench.typed === ''
    ? scene
    : { ...scene, typing: { asks: 'typed', text: safe(bench.typed, 24) }, keys: typingKeys };
