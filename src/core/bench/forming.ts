// The new-job form under the turner's hands: what each event does to it, and when a job begins.
import type { HandEvent } from './event.ts';
import { atLastField, erasedFrom, type Form, isForm, movedIn, setupFrom, typedInto } from './form.ts';
import { becomes, type Outcome, unchanged } from './outcome.ts';
import type { Bench } from './state.ts';

export function stepForm(bench: Bench, form: Form, event: HandEvent): Outcome {
  const shows = (next: Form): Outcome => becomes(bench, { mode: { kind: 'form', form: next } });
  switch (event.kind) {
    case 'typed':
      return shows(typedInto(form, event.text));
    case 'erased':
      return shows(erasedFrom(form));
    case 'moved':
      return shows(movedIn(form, event.by));
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

/** With buttons alone: take begins the job as the form stands, again turns a choice, next and back move. */
function byButton(bench: Bench, form: Form, action: 'take' | 'again' | 'next' | 'back'): Outcome {
  const shows = (next: Form): Outcome => becomes(bench, { mode: { kind: 'form', form: next } });
  if (action === 'take') return finish(bench, form);
  if (action === 'again') return shows(typedInto(form, ' '));
  return shows(movedIn(form, action === 'next' ? 1 : -1));
}

function finish(bench: Bench, form: Form): Outcome {
  const result = setupFrom(form);
  return isForm(result)
    ? becomes(bench, { mode: { kind: 'form', form: result } })
    : becomes(bench, {}, { kind: 'find-lessons', setup: result });
}
