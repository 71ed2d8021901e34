// What the turner's keys and buttons do where no stage is on the screen: in the new-job form, the list of jobs and a note.

import { erasedText, firstCharacters } from '../safe-text.ts';
import type { Action, HandEvent } from './event.ts';
import {
  atLastField,
  erasedFrom,
  isForm,
  movedIn,
  type NewJobForm,
  pickedIn,
  setupFrom,
  typedInto,
} from './new-job-form.ts';
import { becomes, keep, left, type Outcome, unchanged } from './outcome.ts';
import type { Bench } from './state.ts';

export function stepForm(bench: Bench, form: NewJobForm, event: HandEvent): Outcome {
  const shows = (next: NewJobForm): Outcome => becomes(bench, { mode: { kind: 'form', form: next } });
  switch (event.kind) {
    case 'typed':
      return shows(typedInto(form, event.text));
    case 'erased':
      return shows(erasedFrom(form));
    case 'moved':
      return shows(pickedIn(form, event.by) ?? movedIn(form, event.by));
    case 'entered':
      return atLastField(form) ? finish() : shows(movedIn(form, 1));
    case 'action':
      // With buttons alone: keep begins the job as the form stands, again turns a choice, next and back move.
      if (event.action === 'keep') return finish();
      return shows(event.action === 'again' ? typedInto(form, ' ') : movedIn(form, towards(event.action)));
    case 'form-finished':
      return finish();
    case 'escaped':
      return left(bench);
    default:
      return unchanged(bench);
  }
  function finish(): Outcome {
    const result = setupFrom(form);
    return isForm(result) ? shows(result) : becomes(bench, {}, { kind: 'find-lessons', setup: result });
  }
}

const towards = (action: Action): 1 | -1 => (action === 'back' ? -1 : 1);

export function stepJobs(
  bench: Bench,
  mode: Extract<Bench['mode'], { kind: 'jobs' }>,
  event: HandEvent,
): Outcome {
  const { jobs, chosen } = mode;
  const to = (by: number): Outcome =>
    becomes(bench, { mode: { ...mode, chosen: Math.max(0, Math.min(jobs.length - 1, chosen + by)) } });
  const pick = jobs[chosen];
  const open = pick ? becomes(bench, {}, { kind: 'open-job', job: pick.id }) : left(bench);
  switch (event.kind) {
    case 'moved':
      return to(event.by);
    case 'action':
      return event.action === 'keep' ? open : to(towards(event.action));
    case 'entered':
      return open;
    case 'new-job-asked':
      return becomes(bench, {}, { kind: 'open-form' });
    case 'escaped':
      return left(bench);
    default:
      return unchanged(bench);
  }
}

export function stepNote(bench: Bench, text: string, event: HandEvent): Outcome {
  const stage = { ...bench, mode: { kind: 'stage' } } as const;
  switch (event.kind) {
    case 'typed':
      return becomes(bench, { mode: { kind: 'note', text: firstCharacters(text + event.text, 400) } });
    case 'erased':
      return becomes(bench, { mode: { kind: 'note', text: erasedText(text) } });
    case 'escaped':
      return unchanged(stage);
    case 'entered':
      return text.trim() === '' ? unchanged(stage) : keep(stage, { kind: 'note-added', text: text.trim() });
    default:
      return unchanged(bench);
  }
}
