// The new-job form: a table of questions with sensible answers already in them, each checked as it is left.

import { type Parsed, type Pitch, parseCount, parsePitch } from '../quantity.ts';
import { erasedText, firstCharacters } from '../safe-text.ts';
import { type Length, type LengthUnit, mm, tpi } from '../units.ts';
import { seasonLoss } from './seasons.ts';
import type { FeedFacts, Kit, KitFeed, Setup } from './setup.ts';
import { planDepth } from './threads.ts';
import { lengthText, pitchText, seasonIn, seasonText, typedLength, typedSize } from './typed-quantity.ts';
import { spokenWood, woodError, woodHint, woodMeant, woodsFor } from './wood-choice.ts';

export const FIELDS = [
  'name',
  'wood',
  'lid wood',
  'fit',
  'bored part',
  'pitch',
  'starts',
  'cutter',
  'feed',
  'depth',
  'harden',
  'clearance',
  'planned bore',
] as const;
export type Field = (typeof FIELDS)[number];

export interface NewJobForm {
  readonly values: { readonly [field in Field]: string };
  readonly at: number;
  /** True until something is typed into the field stood on: typing then replaces what was there. */
  readonly untouched: boolean;
  readonly error: string | null;
  /** The kind of wood picked by arrow for the letters typed, or the letters that a choice was named by; null while they stand as typed. */
  readonly pick: { readonly typed: string; readonly at: number } | null;
  readonly kit: Kit;
  readonly last: Setup | null;
}

/** What a text says of the setup, or what is wrong with it and what is accepted. */
type Said = Partial<Setup> | string;

interface FormQuestion {
  /** What the screen says of it. */
  readonly asks: (form: NewJobForm) => string;
  /** When it is asked, where that isn't always. */
  readonly isAsked?: (form: NewJobForm) => boolean;
  readonly reads: (text: string, form: NewJobForm) => Said;
  /** What it holds as the form opens: as last time where there was one, else from the kit. */
  readonly offers: (of: { readonly kit: Kit; readonly last: Setup | null; readonly name: string }) => string;
  /** Answered from a list: left and right, or typing its first letters, choose. */
  readonly choices?: (kit: Kit) => readonly string[];
}

const said = <T>(parsed: Parsed<T>, put: (value: T) => Partial<Setup>): Said =>
  parsed.ok ? put(parsed.value) : `give ${parsed.accepted}`;

/** A size that may be left empty. */
const saidSize = (text: string, { kit }: NewJobForm, put: (size: Length) => Partial<Setup>): Said =>
  text === '' ? {} : said(typedSize(text, kit.unit), put);

/** The answer to `feed` of a turner who chases both threads. */
const BY_HAND = 'hand';
const isThreaded = ({ values }: NewJobForm): boolean => values.fit !== 'plain';
const isByHand = (form: NewJobForm): boolean => isThreaded(form) && form.values.feed === BY_HAND;

/** The pitch offered where there was no job before. */
const USUAL_PITCH: { readonly [unit in LengthUnit]: Pitch } = {
  mm: { length: mm(1.5), given: { kind: 'metric' } },
  in: { length: tpi(16), given: { kind: 'tpi', threads: 16 } },
};

const named = <T extends { readonly name: string }>(list: readonly T[], name: string | undefined) =>
  list.find((item) => item.name === name);

const woodQuestion = (key: 'wood' | 'lidWood', asks: string): FormQuestion => ({
  asks: (form) => woodHint(form.values[fieldAt(form)], form.pick, form.kit.unit) ?? asks,
  offers: ({ last }) => spokenWood(last?.[key] ?? ''),
  reads(text, { kit: { unit } }) {
    if (text === '') return {};
    const wood = woodMeant(text, unit)?.id ?? text;
    return woodError(text, unit) ?? (key === 'wood' ? { wood } : { lidWood: wood });
  },
});

const QUESTIONS: { readonly [field in Field]: FormQuestion } = {
  name: {
    asks: () => 'a name for this job',
    offers: ({ name }) => name,
    reads: (name) => (name === '' ? 'give the job a name' : { name }),
  },
  wood: woodQuestion('wood', "the body's wood, or leave it empty"),
  'lid wood': woodQuestion('lidWood', 'leave empty if the lid is the same wood'),
  fit: {
    asks: () => 'a thread, or a plain push-on lid',
    offers: ({ last }) => last?.fit ?? 'threaded',
    choices: () => ['threaded', 'plain'],
    reads: (fit) => ({ fit: fit === 'plain' ? fit : 'threaded' }),
  },
  'bored part': {
    asks: () => 'the part with the bore; its thread is cut first',
    offers: ({ last }) => last?.bored ?? 'lid',
    choices: () => ['lid', 'body'],
    reads: (part) => ({ bored: part === 'body' ? part : 'lid' }),
  },
  pitch: {
    asks: () => 'such as 16tpi or 1.5mm',
    isAsked: isThreaded,
    offers: ({ kit, last }) => pitchText(last?.pitch ?? USUAL_PITCH[kit.unit]),
    reads: (text) => said(parsePitch(text), (pitch) => ({ pitch })),
  },
  starts: {
    asks: () => 'how many threads run side by side',
    isAsked: isThreaded,
    offers: ({ last }) => String(last?.starts ?? 1),
    reads: (text) => said(parseCount(text, 1, 8), (starts) => ({ starts })),
  },
  cutter: {
    asks: () => 'from your kit',
    isAsked: isThreaded,
    offers: ({ kit: { cutters }, last }) => (named(cutters, last?.cutter.name) ?? cutters[0])?.name ?? '',
    choices: ({ cutters }) => cutters.map(({ name }) => name),
    reads: (name, { kit }) => {
      const cutter = named(kit.cutters, name);
      return cutter ? { cutter } : 'choose a cutter of the kit';
    },
  },
  feed: {
    asks: () => 'the handle that feeds the cutter; none: you type depths; hand: you chase both threads',
    isAsked: isThreaded,
    offers: ({ kit: { feeds }, last }) =>
      last?.byHand ? BY_HAND : ((named(feeds, last?.feed?.name) ?? feeds[0])?.name ?? 'none'),
    choices: ({ feeds }) => [...feeds.map(({ name }) => name), 'none', BY_HAND],
    reads: (name, form) => {
      if (isByHand(form)) return { byHand: true };
      const feed = named(form.kit.feeds, name);
      return feed ? { feed: feedFactsOf(feed) } : {};
    },
  },
  depth: {
    asks: () => 'radial depth of the groove; leave empty to use the planned depth',
    isAsked: isThreaded,
    offers: () => '',
    reads: (text, form) => saidSize(text, form, (depth) => ({ depth: { female: depth, male: depth } })),
  },
  harden: {
    asks: () => 'stop one detent short and harden the thread (for crumbly wood)',
    isAsked: (form) => isThreaded(form) && !isByHand(form),
    offers: ({ last }) => (last?.hardens ? 'yes' : 'no'),
    choices: () => ['no', 'yes'],
    reads: (answer, form) => ({ hardens: answer === 'yes' && !isByHand(form) }),
  },
  clearance: {
    asks: () => 'on the diameter, such as 0.15mm, or a humidity range it must run in, such as 30%-65%',
    offers: ({ kit, last }) =>
      last?.season ? seasonText(last.season) : lengthText(last?.wanted ?? kit.wanted, kit.unit),
    reads: saidClearance,
  },
  'planned bore': {
    asks: () => 'the diameter you will hollow to, or leave empty',
    offers: ({ kit, last }) =>
      last?.plannedBore === undefined ? '' : lengthText(last.plannedBore, kit.unit),
    reads: (text, form) => saidSize(text, form, (plannedBore) => ({ plannedBore })),
  },
};

/** A clearance, or the range of room humidity that the lid is to go through, such as 30%-65%: the usual one and what that takes of it. */
function saidClearance(text: string, form: NewJobForm): Said {
  const { kit } = form;
  const season = seasonIn(text);
  if (season === null)
    return text.includes('%')
      ? 'give two humidities from 0% to 100%, the smaller first, such as 30%-65%'
      : said(typedLength(text, kit.unit), (wanted) => ({ wanted }));
  const woods = { bored: 'lid', ...answersTo(form, ['wood', 'lid wood', 'bored part']) } as const;
  const { plannedBore } = answersTo(form, ['planned bore']);
  const loss = plannedBore === undefined ? null : seasonLoss(woods, plannedBore, season);
  return loss === null
    ? 'a season needs a planned bore and a wood that is in the table; or give a clearance such as 0.15mm'
    : { wanted: mm(kit.wanted + loss), season: { ...season, remains: kit.wanted } };
}

const saidIn = (form: NewJobForm, field: Field): Said =>
  QUESTIONS[field].reads(form.values[field].trim(), form);

/** What is wrong with a field, and what is accepted; null when it is fine. */
export function errorIn(form: NewJobForm, field: Field): string | null {
  const answer = saidIn(form, field);
  return typeof answer === 'string' ? answer : null;
}

/** What these fields say of the setup, as far as they are fine. */
const answersTo = (form: NewJobForm, fields: readonly Field[]): Partial<Setup> =>
  Object.assign({}, ...fields.map((field) => saidIn(form, field)).filter((one) => typeof one !== 'string'));

export const choicesOf = ({ kit }: NewJobForm, field: Field): readonly string[] | undefined =>
  QUESTIONS[field].choices?.(kit);

export const hintOf = (form: NewJobForm): string => QUESTIONS[fieldAt(form)].asks(form);

export const fieldsOf = (form: NewJobForm): readonly Field[] =>
  FIELDS.filter((field) => QUESTIONS[field].isAsked?.(form) ?? true);

export const fieldAt = (form: NewJobForm): Field => fieldsOf(form)[form.at] ?? 'name';

export function openForm(kit: Kit, last: Setup | null, name: string): NewJobForm {
  const offered = FIELDS.map((field) => [field, QUESTIONS[field].offers({ kit, last, name })]);
  const values: NewJobForm['values'] = Object.fromEntries(offered);
  return { values, at: 0, untouched: true, error: null, pick: null, kit, last };
}

const withValue = (form: NewJobForm, value: string): NewJobForm => ({
  ...form,
  values: { ...form.values, [fieldAt(form)]: firstCharacters(value, 80) },
  untouched: false,
  error: null,
  pick: null,
});

export function typedInto(form: NewJobForm, text: string): NewJobForm {
  const field = fieldAt(form);
  const choices = choicesOf(form, field);
  const before = form.pick?.typed ?? form.values[field];
  if (!choices) return withValue(form, form.untouched ? text.trimStart() : before + text);
  const letters = (form.pick?.typed ?? '') + text;
  const spelled = form.pick && choices.find((choice) => startsWith(choice, letters));
  if (spelled) return chosen(form, spelled, letters);
  const at = choices.indexOf(form.values[field]);
  const turned = [...choices.slice(at + 1), ...choices.slice(0, at + 1)];
  const match = text === ' ' ? turned[0] : turned.find((choice) => startsWith(choice, text));
  return match === undefined ? form : chosen(form, match, text);
}

const startsWith = (choice: string, letters: string): boolean =>
  choice.toLowerCase().startsWith(letters.toLowerCase());

/** A choice with the letters that named it, so that the next one goes on spelling it. */
const chosen = (form: NewJobForm, choice: string, typed: string): NewJobForm => ({
  ...withValue(form, choice),
  pick: { typed, at: 0 },
});

/** Another kind of the wood typed, by arrow; null where there is nothing to pick. */
export function pickedIn(form: NewJobForm, by: 1 | -1): NewJobForm | null {
  const field = fieldAt(form);
  if (field !== 'wood' && field !== 'lid wood') return null;
  const typed = form.pick?.typed ?? form.values[field];
  const kinds = typed.trim() === '' || form.untouched ? [] : woodsFor(typed, form.kit.unit);
  const at = (form.pick?.at ?? -1) + by;
  const kind = kinds[at];
  if (kinds.length < 2 || at < -1 || at >= kinds.length) return null;
  return { ...withValue(form, kind?.trade ?? typed), pick: kind ? { typed, at } : null };
}

export const erasedFrom = (form: NewJobForm): NewJobForm =>
  choicesOf(form, fieldAt(form))
    ? form
    : withValue(form, form.untouched ? '' : erasedText(form.values[fieldAt(form)]));

/** To the next or the last field; the typed text is checked first, and a wrong one keeps the turner in its field. */
export function movedIn(form: NewJobForm, by: 1 | -1): NewJobForm {
  const error = errorIn(form, fieldAt(form));
  if (error !== null && by > 0) return { ...form, error };
  const at = Math.max(0, Math.min(fieldsOf(form).length - 1, form.at + by));
  return { ...form, at, untouched: true, error: null, pick: null };
}

export const atLastField = (form: NewJobForm): boolean => form.at >= fieldsOf(form).length - 1;

export const isForm = (result: Setup | NewJobForm): result is NewJobForm => 'values' in result;

/** What of a feed is kept with a job: what was proven on it is the kit's own. */
export const feedFactsOf = ({ proven: _, ...facts }: KitFeed): FeedFacts => facts;

/** The setup that a whole and sound form is; otherwise the form, standing on the first field that is wrong. */
export function setupFrom(form: NewJobForm): Setup | NewJobForm {
  const { kit, values } = form;
  const asked = fieldsOf(form);
  const wrong = asked.findIndex((field) => errorIn(form, field) !== null);
  if (wrong >= 0) {
    const error = errorIn(form, asked[wrong] ?? 'name');
    // What was just typed may be gone on with: `oak` is refused as several, `oak eur` is one.
    return { ...form, at: wrong, error, untouched: form.untouched || wrong !== form.at };
  }
  const answers = answersTo(form, FIELDS);
  const { pitch = USUAL_PITCH[kit.unit], cutter = kit.cutters[0] } = answers;
  const caliper = kit.calipers[0];
  if (!cutter || !caliper) return { ...form, error: 'the kit needs a cutter and a caliper' };
  const depth = planDepth(pitch, cutter, named(kit.feeds, values.feed));
  return {
    name: values.name,
    fit: 'threaded',
    bored: 'lid',
    pitch,
    starts: 1,
    cutter,
    depth: { female: depth, male: depth },
    hardens: false,
    wanted: kit.wanted,
    bounds: kit.bounds,
    unit: kit.unit,
    caliper,
    ...(kit.measuring ? { measuring: kit.measuring } : {}),
    ...answers,
  };
}
