// What the turner's hands do where no stage is on the screen: the new-job form, the list of jobs, a note.

import { firstCharacters } from '../safe-text.ts';
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
import { becomes, keep, type Outcome, unchanged } from './outcome.ts';
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
      return atLastField(form) ? finish(bench, form) : shows(movedIn(form, 1));
    case 'action':
      return byButton(bench, form, event.action);
    case 'form-finished':
      return finish(bench, form);
    case 'escaped':
      return becomes(bench, { mode: { kind: bench.job ? 'stage' : 'welcome' } });
    default:
      return unchanged(bench);
  }
}

/** With buttons alone: keep begins the job with the form as filled in, again turns a choice, next and back move. */
function byButton(bench: Bench, form: NewJobForm, action: Action): Outcome {
  const shows = (next: NewJobForm): Outcome => becomes(bench, { mode: { kind: 'form', form: next } });
  if (action === 'keep') return finish(bench, form);
  if (action === 'again') return shows(typedInto(form, ' '));
  return shows(movedIn(form, action === 'next' ? 1 : -1));
}

function finish(bench: Bench, form: NewJobForm): Outcome {
  const result = setupFrom(form);
  return isForm(result)
    ? becomes(bench, { mode: { kind: 'form', form: result } })
    : becomes(bench, {}, { kind: 'find-lessons', setup: result });
}

export function stepJobs(
  bench: Bench,
  mode: Extract<Bench['mode'], { kind: 'jobs' }>,
  event: HandEvent,
): Outcome {
  const { jobs, chosen } = mode;
  const back = becomes(bench, { mode: { kind: bench.job ? 'stage' : 'welcome' } });
  const to = (by: number): Outcome =>
    becomes(bench, { mode: { ...mode, chosen: Math.max(0, Math.min(jobs.length - 1, chosen + by)) } });
  const pick = jobs[chosen];
  switch (event.kind) {
    case 'moved':
      return to(event.by);
    case 'action':
      if (event.action === 'next' || event.action === 'again') return to(1);
      if (event.action === 'back') return to(-1);
      return pick ? becomes(bench, {}, { kind: 'open-job', job: pick.id }) : back;
    case 'entered':
      return pick ? becomes(bench, {}, { kind: 'open-job', job: pick.id }) : back;
    case 'new-job-asked':
      return becomes(bench, {}, { kind: 'open-form' });
    case 'escaped':
      return back;
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
      return becomes(bench, { mode: { kind: 'note', text: [...text].slice(0, -1).join('') } });
    case 'escaped':
      return unchanged(stage);
    case 'entered':
      return text.trim() === '' ? unchanged(stage) : keep(stage, { kind: 'note-added', text: text.trim() });
    default:
      return unchanged(bench);
  }
}
