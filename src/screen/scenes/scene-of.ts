// The scene of a bench: the stage's own, or what is shown instead of a stage (welcome, form, jobs, note, help); typed numbers over any.
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Stage } from '../../core/bench/entry.ts';
import type { JobLine } from '../../core/bench/job.ts';
import { choicesOf, fieldAt, fieldsOf, hintOf, type NewJobForm } from '../../core/bench/new-job-form.ts';
import type { Part } from '../../core/bench/setup.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import type { Bench } from '../../core/bench/state.ts';
import { ago, lengthFigure } from '../../core/figures.ts';
import { mm } from '../../core/units.ts';
import { cautionAt, cautionsFor, helpAt } from '../help.ts';
import {
  formKeys,
  helpKeys,
  listKeys,
  noteKeys,
  pauseKey,
  practiceKeys,
  stageKeys,
  TEACHING_KEYS,
  typingKeys,
  welcomeKeys,
} from '../keymap.ts';
import type { Paragraph } from '../panels/paragraphs.ts';
import type { Scene } from '../scene.ts';
import { safe } from '../text.ts';
import { byKind } from '../words.ts';
import { boreSizeScene } from './bore-size.ts';
import { calibrateScene } from './calibrate.ts';
import { hollowScene } from './hollow.ts';
import { practiceScene } from './practice.ts';
import { recordScene } from './record.ts';
import type { OwnScene, StageScene } from './scene-parts.ts';
import { spigotScene } from './spigot.ts';
import { threadScene } from './thread.ts';
import { chasedScene } from './thread-by-hand.ts';
import { trialScene } from './trial.ts';
import { zeroScene } from './zero.ts';

/** What a scene has where nothing else is said. */
const NOTHING = { big: null, standing: null, facts: [], panel: null, caution: null, typing: null } as const;

export const sceneOf = (bench: Bench): Scene => ({
  ...NOTHING,
  ...(bench.help ? helpScene(bench) : SCENES(bench.mode, bench)),
});

const SCENES = byKind<Bench['mode'], OwnScene, [bench: Bench]>({
  welcome: (_, bench) => withTyping(bench, welcomeScene(bench)),
  form: ({ form }) => formScene(form),
  jobs: ({ jobs, chosen }, bench) => jobsScene(bench, jobs, chosen),
  note: ({ text: typed }) => noteScene(typed),
  calibrate: ({ calibrating }, bench) => withTyping(bench, calibrateScene(bench, calibrating)),
  practice: ({ practice }, bench) => withTyping(bench, withPause(bench, practiceScene(bench, practice))),
  stage: (_, bench) => (bench.job ? stageScene({ ...bench, job: bench.job }) : welcomeScene(bench)),
});

function stageScene(bench: WithJob): OwnScene {
  const { stage } = bench.job;
  const usual = { title: stage, caution: cautionAt[stage], keys: stageKeys('keep') };
  return withTyping(bench, withPause(bench, { ...usual, ...STAGE_SCENES[stage](bench) }));
}

const STAGE_SCENES: { readonly [stage in Stage]: (bench: WithJob) => StageScene } = {
  zero: zeroScene,
  hollow: hollowScene,
  'bore thread': (bench) => threadSceneOf(bench, 'female'),
  'bore size': boreSizeScene,
  spigot: spigotScene,
  'spigot thread': (bench) => threadSceneOf(bench, 'male'),
  trial: trialScene,
  record: recordScene,
};

const threadSceneOf = (bench: WithJob, part: Part): StageScene =>
  bench.job.setup.byHand ? chasedScene(bench, part) : threadScene(bench, part);

/** The key that lets time go on comes first; the one that stops it last. */
function withPause({ teaching }: Bench, scene: OwnScene): OwnScene {
  if (!teaching) return scene;
  const key = pauseKey(teaching.paused);
  return { ...scene, keys: teaching.paused ? [key, ...scene.keys] : [...scene.keys, key] };
}

const withTyping = (bench: Bench, scene: OwnScene): OwnScene =>
  bench.typed === ''
    ? scene
    : { ...scene, typing: { asks: 'typed', text: safe(bench.typed, 24) }, keys: typingKeys };

const text = (said: string): Paragraph => ({ kind: 'text', text: said });
const key = (name: string, does: string, short: string): Paragraph => ({
  kind: 'key',
  key: name,
  text: does,
  short,
});
const caution = (said: string): Paragraph => ({ kind: 'caution', text: said });

function welcomeScene(bench: Bench): OwnScene {
  const speaking = bench.line.open;
  const paragraphs: readonly Paragraph[] = [
    { kind: 'title', text: 'Threaded lids that run at the first trial' },
    text('Rock the caliper in the bore until its peaks agree. That is the true diameter.'),
    text('Turn the spigot down to the size worked out for your pitch, cutter and depth.'),
    text('Feed by detents to a counted depth, try the pair, and keep it all for the next box.'),
    key('Enter', 'begin a new job', 'new job'),
    key('j', 'continue an earlier job', 'earlier jobs'),
    ...(speaking
      ? []
      : [key('v', 'try the virtual bench: simulated hand, caliper and lathe', 'virtual bench')]),
    key('k', 'measure how far one detent of the feed handle moves the cutter', 'calibrate'),
    key('?', 'help, here and at every stage', 'help'),
    caution(CAUTIONS.stopped),
    caution(CAUTIONS.manuals),
  ];
  return {
    title: 'welcome',
    panel: { kind: 'paragraphs', paragraphs },
    next: speaking
      ? 'A board is connected. Press Enter to begin a job.'
      : 'Press Enter to begin a job. A board is found when you plug it in.',
    keys: welcomeKeys(!speaking),
  };
}

export function formScene(form: NewJobForm): OwnScene {
  const at = fieldAt(form);
  return {
    title: 'new job',
    panel: {
      kind: 'form',
      fields: fieldsOf(form).map((name) => ({
        name,
        value: safe(form.values[name]),
        choice: choicesOf(form, name) !== undefined,
      })),
      at: form.at,
      hint: hintOf(form),
      error: form.error === null ? null : safe(`${at}: ${form.error}`),
    },
    next: "Change what isn't right, then press End or Ctrl-D to begin.",
    keys: formKeys,
  };
}

const jobsScene = (bench: Bench, jobs: readonly JobLine[], at: number): OwnScene => ({
  title: 'jobs',
  ...(jobs.length === 0
    ? {
        panel: { kind: 'paragraphs', paragraphs: [text('No jobs yet. Press w for the first one.')] },
        next: 'Press w to begin a job, Esc to go back.',
      }
    : {
        panel: {
          kind: 'jobs',
          at,
          rows: jobs.map(({ name, stage, touched, closed }) => ({
            name: safe(name),
            stage,
            closed,
            when: ago(bench.wall - touched),
          })),
        },
        next: 'Press Enter to open the job where you left it.',
      }),
  keys: listKeys,
});

const noteScene = (typed: string): OwnScene => ({
  title: 'note',
  panel: {
    kind: 'paragraphs',
    paragraphs: [text("A line for the record: what happened, what you'd change next time.")],
  },
  next: 'Type it, then press Enter to keep it.',
  typing: { asks: 'note', text: safe(typed, 400) },
  keys: noteKeys,
});

/** Why the target is not what the sums alone give. */
function reasonsOf({ job, unit }: Bench): readonly Paragraph[] {
  const learned = job?.setup.learned;
  if (!learned || learned.shift === 0) return [];
  const way = learned.shift > 0 ? 'looser' : 'tighter';
  const by = lengthFigure(mm(Math.abs(learned.shift)), unit);
  return [
    text(`Pairs on this setup came out ${by} ${way} than computed, so the target allows for it:`),
    ...learned.reasons.map((reason) => text(`- ${safe(reason, 120)}`)),
  ];
}

function keysAt({ mode, job, teaching }: Bench): typeof TEACHING_KEYS {
  const more = teaching ? TEACHING_KEYS : [];
  if (mode.kind !== 'practice') return [...helpKeys(mode.kind === 'stage' ? job : null), ...more];
  const own = practiceKeys(teaching !== null, 'end this measurement').filter(({ key: name }) => name !== '?');
  return [
    ...own.map((hint) => ({ ...hint, short: hint.does })),
    ...more.filter(({ key: name }) => name !== 'x'),
  ];
}

function helpScene(bench: Bench): OwnScene {
  const job = bench.mode.kind === 'stage' ? bench.job : null;
  const stage = job?.stage ?? null;
  const byHand = job?.setup.byHand === true;
  const { kind } = bench.mode;
  const about = stage ?? (kind === 'calibrate' || kind === 'practice' ? kind : 'welcome');
  const paragraphs: readonly Paragraph[] = [
    ...helpAt(about, byHand).map(text),
    ...(stage === 'spigot' ? reasonsOf(bench) : []),
    ...cautionsFor(stage, byHand).map(caution),
    ...keysAt(bench).map((hint) => key(hint.key, hint.does, hint.short)),
  ];
  return {
    title: about === 'welcome' ? 'help' : `help: ${about}`,
    panel: { kind: 'paragraphs', paragraphs },
    next: 'Press ? to go back to the bench.',
    keys: [],
  };
}
