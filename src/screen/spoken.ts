// The bench in plain sentences, for a screen reader: one line for each change of meaning, and nothing is drawn.
import type { Bench } from '../core/bench/state.ts';
import { type Health, healthOf } from './line-health.ts';
import type { Paragraph } from './panels/paragraphs.ts';
import type { Figure, Panel, Scene } from './scene.ts';
import { sceneOf } from './scenes/scene-of.ts';
import { safe } from './text.ts';
import { byKind, noticeWords } from './words.ts';

/** The last words about each thing, so that nothing is said twice. */
export interface Spoken {
  readonly [matter: string]: string;
}

interface Speech {
  readonly lines: readonly string[];
  readonly said: Spoken;
}

export const SILENT: Spoken = {};

/** The sentences that this bench adds to what was said, in the order of their weight. */
export function speak(bench: Bench, said: Spoken): Speech {
  const matters = mattersOf(bench);
  const entered = matters.stage !== said.stage;
  const lines = Object.entries(matters).flatMap(([matter, sentence]) => {
    const known = !entered && said[matter] === sentence;
    return known || sentence === '' ? [] : [sentence];
  });
  return { lines, said: matters };
}

function mattersOf(bench: Bench): Spoken {
  const scene = sceneOf(bench);
  return {
    stage: `${bench.job && bench.mode.kind === 'stage' ? `${safe(bench.job.name)}: ` : ''}${scene.title}.`,
    text: scene.panel ? panelText(scene.panel) : '',
    notice: bench.notice ? noticeWords(bench.notice, bench.unit) : '',
    standing: standingText(scene),
    typing: scene.typing && scene.typing.asks === 'note' ? 'Writing a note.' : '',
    next: scene.next,
    caution: scene.caution ? `Caution: ${scene.caution}` : '',
    line: lineText(healthOf(bench)),
  };
}

/** A number is said once it is still: with its word, never while it runs. */
const RUNNING = new Set(['ROCKING', 'MOVING', 'TURN DOWN', 'NEAR', 'OPEN', 'READY', 'STALE']);

function standingText({ standing, big, facts }: Scene): string {
  if (!standing) return '';
  const word = `${capital(standing.word)}: ${standing.about}.`;
  if (!big || RUNNING.has(standing.word)) return word;
  return [word, `${capital(big.label)}: ${big.text} ${big.unit}`.trimEnd().concat('.'), factText(facts)]
    .filter((part) => part !== '')
    .join(' ');
}

const factText = (facts: readonly Figure[]): string =>
  facts.map(({ name, value }) => `${capital(name)} ${value}.`).join(' ');

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1).toLowerCase();

const panelText = byKind<Panel, string>({
  paragraphs: ({ paragraphs }) => paragraphs.map(paragraphText).join('\n'),
  table: ({ rows }) => rows.map(({ name, value }) => `${name}: ${value}`).join('\n'),
  form({ fields, at, hint, error }) {
    const field = fields[at];
    return field ? `${field.name}: ${field.value === '' ? 'empty' : field.value}. ${error ?? hint}.` : '';
  },
  jobs({ rows, at }) {
    const job = rows[at];
    return job ? `${job.name}, ${job.closed ? 'closed' : `at ${job.stage}`}, ${job.when}.` : '';
  },
  trace: '',
  bar: '',
  section: '',
});

const paragraphText = ({ kind, key, text }: Paragraph): string =>
  kind === 'key' ? `${key}: ${text}.` : kind === 'caution' ? `Caution: ${text}` : text;

/** The line in words, without the rate that changes all the time. */
const lineText = ({ text, counts }: Health): string =>
  `Line: ${text.replace(/ \d+\/s$/, '').replace(/^silent .*/, 'silent')}${counts === '' ? '' : `, ${counts}`}.`;
