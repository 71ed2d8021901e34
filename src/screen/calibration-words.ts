// The sentences of a calibration: what is asked and how to answer it, and why a step was not done.
import type { CalibrationTrouble, PairLack, Question } from '../core/bench/calibration/model.ts';
import { counted } from '../core/figures.ts';
import { safe } from './text.ts';
import { voidWords } from './void-words.ts';

/** What the job on the bench lacks to be a pair that calibrates. */
export const LACKS: { readonly [lack in PairLack]: string } = {
  job: 'no job is open; open that of the pair with j',
  thread: 'this job is a plain lid',
  bore: 'this job has no bore yet',
  spigot: 'this job has no spigot yet',
  trial: 'this pair was not seen to run yet: make its trial',
};

export function calibrationWords(trouble: CalibrationTrouble): string {
  switch (trouble.kind) {
    case 'no-pair':
      return `Not from a pair: ${LACKS[trouble.lack]}.`;
    case 'no-count':
      return 'No board counts this feed: type how many detents you will feed, then Enter.';
    case 'nothing-asked':
      return trouble.question === 'mark'
        ? 'Set the gauge to zero and press Enter first; then the board counts.'
        : 'All is answered: Enter goes on, b takes an answer back.';
    case 'not-fed':
      return `The board counted ${counted(trouble.detents, 'detent')} since the gauge stood at zero: feed deeper, then type the travel.`;
    case 'other-count':
      return `That was over ${counted(trouble.detents, 'detent')}, and the first over ${trouble.first}: feed ${trouble.first}, or press a to begin anew.`;
    case 'count-broken':
      return `This travel is not counted on, since ${voidWords(trouble.why)}: set the gauge to zero again.`;
    case 'not-answered':
      return 'Something is still asked: answer it first.';
    case 'no-name':
      return 'Give the feed a name first.';
    case 'no-calibration':
      return `Nothing to keep: ${safe(trouble.why)}.`;
    default:
      return trouble satisfies never;
  }
}

/** What to do for each question; `offered` is what Enter alone takes, `counts` that a board counts the feed. */
export function asking(
  question: Question,
  {
    offered,
    counts,
    travels,
  }: { readonly offered: string; readonly counts: boolean; readonly travels: number },
): string {
  switch (question) {
    case 'gauge within':
      return `How far off may the gauge be, plus or minus? Type it; Enter alone takes ${offered}.`;
    case 'detents':
      return counts
        ? 'Lathe stopped: turn the feed deeper until the gauge moves, set the gauge to zero, and press Enter: the board counts from there.'
        : 'Lathe stopped, a gauge on the slide: how many detents will you feed each time? Type it.';
    case 'mark':
      return 'Once more: go back well past, come deeper until the gauge moves, set it to zero, Enter. Or n keeps it.';
    case 'travel':
      return travels === 0
        ? 'Feed them deeper from the gauge at zero, slack taken out; type the travel and Enter.'
        : travels === 1
          ? 'One travel proves little: once more from zero, and type that travel; or n keeps it.'
          : 'Once more from zero, and type that travel; or n goes on to keep it.';
    case 'bore detents':
      return 'How many detents deep was the bore cut, from touch-off? Type it.';
    case 'spigot detents':
      return 'How many detents deep was the spigot cut, from touch-off? Type it.';
    case 'play':
      return 'Close the lid and back it off a little: how far does it shake along its axis? Type it.';
    case 'play within':
      return `How surely is that known, plus or minus? Type it; Enter alone takes ${offered}.`;
    case 'touch-off within':
      return `How surely was each touch-off met, plus or minus? Type it; Enter alone takes ${offered}.`;
    case 'nothing':
      return 'Enter goes on to keep it; b takes an answer back.';
    default:
      return question satisfies never;
  }
}
