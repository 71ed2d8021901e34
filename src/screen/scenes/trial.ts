// Trial: the word for what the pair did, the fit that was expected, and what to do next.
import { adviceOn, type TrialAdvice } from '../../core/bench/advice.ts';
import { CAUTIONS } from '../../core/bench/cautions.ts';
import type { Job } from '../../core/bench/job.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { choices, trialWord } from '../../core/bench/stages/trial-and-record.ts';
import type { Trialled } from '../../core/bench/state.ts';
import { boundsNow, expectedOf } from '../../core/bench/target.ts';
import { percent, withDoubt } from '../../core/figures.ts';
import { chancesOf } from '../../core/thread/chances.ts';
import { FIT_ORDER, type FitWord } from '../../core/thread/fit.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { stageKeys } from '../keymap.ts';
import type { Table } from '../panels/lists.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import type { Style } from '../text.ts';
import { adviceWords, FIT_WORDS, fitName, looseness } from '../words.ts';
import { doubtFor, factsFrom, type StageScene, standingLine } from './scene-parts.ts';

const LONGEST_WORDS = Math.max(...FIT_ORDER.map((word) => FIT_WORDS[word].length));

const WORD_STYLE: { readonly [word in Trialled]: Style } = {
  seized: 'past',
  tight: 'near',
  running: 'at',
  loose: 'past',
  'crests relieved': 'near',
};

export function trialScene(bench: WithJob): StageScene {
  const { job, unit } = bench;
  const advice = adviceOn(job);
  return {
    big: bigOf(bench),
    standing: standingOf(job),
    facts: factsOf(job, unit),
    panel: { kind: 'table', rows: advice.length > 0 ? adviceRows(advice, unit) : choiceRows(bench) },
    next: nextStep(bench, advice[0]?.kind),
    ...(bench.trialled === 'crests relieved' && { caution: CAUTIONS.dust }),
    keys: stageKeys('keep this word', 'other word'),
  };
}

function bigOf(bench: WithJob): Big {
  const word = trialWord(bench);
  if (word === null) return { text: '--', unit: '', label: 'what did the pair do?', style: 'quiet' };
  const isRelief = word === 'crests relieved';
  const kept = isRelief ? 'what was done' : 'what the pair did';
  return {
    text: isRelief ? 'RELIEVED' : word.toUpperCase(),
    unit: '',
    label: bench.trialled === null ? kept : 'chosen, not kept yet',
    style: WORD_STYLE[word],
  };
}

function standingOf(job: Job): Standing {
  const last = job.trials.at(-1);
  if (!last) return standingLine(MARKS.open, 'FIRST TRIAL', 'not tried yet', 'quiet');
  const word = `TRIAL ${job.trials.length}`;
  return standingLine(
    last.verdict === 'running' ? MARKS.full : MARKS.half,
    word,
    `was ${last.verdict}${last.relieved ? ', crests relieved since' : `: ${FIT_WORDS[last.verdict]}`}`,
    last.verdict === 'running' ? 'good' : 'near',
  );
}

/** What to say beside a clearance whose doubt can't be worked out. */
const UNKNOWN_DOUBT = mm(0.1);

function factsOf(job: Job, unit: LengthUnit): readonly Figure[] {
  if (!job.spigot) return [{ name: 'spigot', value: 'none kept, so no clearance is saved' }];
  const expected = expectedOf(job, job.spigot);
  const doubt = doubtFor(job);
  if (expected.kind === 'unmeasured') return [{ name: 'fit', value: "unknown: one depth isn't measured" }];
  if (expected.kind !== 'expected') return [];
  const { name, value } = looseness(job.setup, expected.clearance);
  return factsFrom({
    'computed fit': fitName(job.setup, expected.word),
    [name]: withDoubt(value, doubt ? mm(doubt.expanded95) : UNKNOWN_DOUBT, unit),
    'biggest unknown': doubt?.largest.name ?? null,
  });
}

/** The words to choose from, each with its chance where it can be told. */
function choiceRows(bench: WithJob): Table['rows'] {
  const { job } = bench;
  const expected = job.spigot ? expectedOf(job, job.spigot) : null;
  const doubt = doubtFor(job);
  const chances =
    expected?.kind === 'expected' && doubt && job.setup.fit === 'threaded'
      ? chancesOf(expected.clearance, doubt, boundsNow(job))
      : null;
  const shown = (word: FitWord): string => (chances ? percent(chances[word]) : '');
  const widest = Math.max(...FIT_ORDER.map((word) => shown(word).length));
  const withChance = (word: FitWord): string =>
    `${FIT_WORDS[word].padEnd(LONGEST_WORDS)}   ${shown(word).padStart(widest)}`;
  return choices(bench).map((word, at) => ({
    name: `${at + 1} ${word}`,
    value: word === 'crests relieved' ? '' : chances ? withChance(word) : FIT_WORDS[word],
    strong: word === bench.trialled,
  }));
}

const adviceRows = (advice: ReturnType<typeof adviceOn>, unit: LengthUnit): Table['rows'] =>
  advice.map((one, at) => ({
    name: at === 0 ? 'best' : 'or',
    value: adviceWords(one, unit),
    strong: at === 0,
  }));

function nextStep(bench: WithJob, best: TrialAdvice['kind'] | undefined): string {
  const { job } = bench;
  const last = job.trials.at(-1);
  if (bench.trialled === 'crests relieved')
    return 'Sand the crests lightly, then press Enter to record it. Then try the pair again.';
  if (bench.trialled !== null) return 'Press Enter to keep this word, a for another.';
  const words = choices(bench);
  const say = `press 1 to ${words.length} for what it did`;
  const named = `Press ${words.map((word, at) => `${at + 1} ${word}`).join(', ')}.`;
  if (last?.reworked) return `The thread is deeper now. Try it, then press 1 to ${words.length}.`;
  if (best === 'runs') return 'It runs. Press n for the record.';
  if (best === 'runs-over-range')
    return "It's right for the humidity you made it for. Press n for the record.";
  if (last?.relieved) return `Crests relieved: screw the pair together again. ${named}`;
  if (!last) return `Screw the pair together and ${say}.`;
  if (best !== 'leave' && (last.verdict === 'running' || last.verdict === 'loose'))
    return `It turns now, but will bind in its worst humidity. ${best === 'deepen' ? 'Do as advised, or press' : 'Press'} n.`;
  return best === undefined || best === 'leave'
    ? `Press n for the record, or b ${job.setup.fit === 'plain' ? '' : 'twice '}to go back and turn a new spigot.`
    : `Do as advised, then try the pair again. ${named}`;
}
