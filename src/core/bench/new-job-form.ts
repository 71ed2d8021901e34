// The new-job form: a few fields with sensible answers already in them, each checked as it is left.

import { type Parsed, parseCount, parsePitch } from '../quantity.ts';
import { firstCharacters } from '../safe-text.ts';
import { type Length, type LengthUnit, mm } from '../units.ts';
import { planDepth } from './planned-depth.ts';
import { lengthText, pitchText, seasonIn, seasonText } from './quantity-text.ts';
import { seasonLoss } from './seasons.ts';
import type { FeedFacts, Kit, KitFeed, Setup } from './setup.ts';
import { typedLength, typedSize } from './typed-reading.ts';
import { spokenWood, woodMeant, woodsFor } from './wood-choice.ts';

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
  /** The kind picked by arrow for the letters typed, or the choice that they spell so far; null while they stand as typed. */
  readonly pick: { readonly typed: string; readonly at: number } | null;
  readonly kit: Kit;
  readonly last: Setup | null;
}

/** The answer to `feed` of a turner who chases both threads. */
const BY_HAND = 'hand';
const isByHand = ({ values }: NewJobForm): boolean => values.fit !== 'plain' && values.feed === BY_HAND;
/** What a plain lid does not ask. */
const THREAD_ONLY: ReadonlySet<Field> = new Set(['pitch', 'starts', 'cutter', 'feed', 'depth', 'harden']);
/** Fields answered from a list: left and right, or typing its first letters, choose. */
const CHOICES: { readonly [field in Field]?: (form: NewJobForm) => readonly string[] } = {
  fit: () => ['threaded', 'plain'],
  'bored part': () => ['lid', 'body'],
  harden: () => ['no', 'yes'],
  cutter: (form) => form.kit.cutters.map((cutter) => cutter.name),
  feed: (form) => [...form.kit.feeds.map((feed) => feed.name), 'none', BY_HAND],
};

export const choicesOf = (form: NewJobForm, field: Field): readonly string[] | undefined =>
  CHOICES[field]?.(form);

export const fieldsOf = (form: NewJobForm): readonly Field[] =>
  FIELDS.filter((field) =>
    form.values.fit === 'plain' ? !THREAD_ONLY.has(field) : field !== 'harden' || !isByHand(form),
  );

export const fieldAt = (form: NewJobForm): Field => fieldsOf(form)[form.at] ?? 'name';

/** The form as opened: as last time where there was one, else from the kit. */
export function openForm(kit: Kit, last: Setup | null, name: string): NewJobForm {
  const unit = kit.unit;
  const values = {
    name,
    wood: last?.wood === undefined ? '' : spokenWood(last.wood),
    'lid wood': last?.lidWood === undefined ? '' : spokenWood(last.lidWood),
    fit: last?.fit ?? 'threaded',
    'bored part': last?.bored ?? 'lid',
    pitch: last ? pitchText(last.pitch) : unit === 'in' ? '16tpi' : '1.5mm',
    starts: String(last?.starts ?? 1),
    cutter: known(kit.cutters, last?.cutter.name) ?? kit.cutters[0]?.name ?? '',
    feed: last?.byHand ? BY_HAND : (known(kit.feeds, last?.feed?.name) ?? kit.feeds[0]?.name ?? 'none'),
    depth: '',
    harden: last?.hardens ? 'yes' : 'no',
    clearance: last?.season ? seasonText(last.season) : lengthText(last?.wanted ?? kit.wanted, unit),
    'planned bore': last?.plannedBore === undefined ? '' : lengthText(last.plannedBore, unit),
  };
  return { values, at: 0, untouched: true, error: null, pick: null, kit, last };
}

const known = (list: readonly { readonly name: string }[], name: string | undefined): string | undefined =>
  list.find((item) => item.name === name)?.name;

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
  const spelled = form.pick && choices.findIndex((choice) => startsWith(choice, letters));
  if (spelled !== null && spelled >= 0) return chosen(form, choices, spelled, letters);
  const at = choices.indexOf(form.values[field]);
  const turned = [...choices.slice(at + 1), ...choices.slice(0, at + 1)];
  const match = text === ' ' ? turned[0] : turned.find((choice) => startsWith(choice, text));
  return match === undefined ? form : chosen(form, choices, choices.indexOf(match), text);
}

const startsWith = (choice: string, letters: string): boolean =>
  choice.toLowerCase().startsWith(letters.toLowerCase());

/** A choice with the letters that named it, so that the next one goes on spelling it. */
const chosen = (form: NewJobForm, choices: readonly string[], at: number, typed: string): NewJobForm => ({
  ...withValue(form, choices[at] ?? ''),
  pick: { typed, at },
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
    : withValue(form, form.untouched ? '' : [...form.values[fieldAt(form)]].slice(0, -1).join(''));

/** To the next or the last field; what was typed is checked first, and the turner stays where it is wrong. */
export function movedIn(form: NewJobForm, by: 1 | -1): NewJobForm {
  const error = errorIn(form, fieldAt(form));
  if (error !== null && by > 0) return { ...form, error };
  const at = Math.max(0, Math.min(fieldsOf(form).length - 1, form.at + by));
  return { ...form, at, untouched: true, error: null, pick: null };
}

export const atLastField = (form: NewJobForm): boolean => form.at >= fieldsOf(form).length - 1;

const need = <T>(parsed: Parsed<T>): string | null => (parsed.ok ? null : `give ${parsed.accepted}`);

/** What is wrong with a field, and what is accepted; null when it is fine. */
export function errorIn(form: NewJobForm, field: Field): string | null {
  const text = form.values[field].trim();
  const unit: LengthUnit = form.kit.unit;
  switch (field) {
    case 'name':
      return text === '' ? 'give the job a name' : null;
    case 'wood':
    case 'lid wood':
      return woodError(text, unit);
    case 'pitch':
      return need(parsePitch(text));
    case 'starts':
      return need(parseCount(text, 1, 8));
    case 'depth':
      return text === '' ? null : need(typedSize(text, unit));
    case 'clearance':
      return clearanceError(form, text);
    case 'planned bore':
      return text === '' ? null : need(typedSize(text, unit));
    case 'cutter':
      return form.kit.cutters.some((cutter) => cutter.name === text) ? null : 'choose a cutter of the kit';
    case 'fit':
    case 'bored part':
    case 'feed':
    case 'harden':
      return null;
    default:
      return field satisfies never;
  }
}

/** A clearance, or the range of room humidity that the lid is to go through, such as 30%-65%. */
function clearanceError(form: NewJobForm, text: string): string | null {
  const season = seasonIn(text);
  if (season === null)
    return text.includes('%')
      ? 'give two humidities from 0% to 100%, the smaller first, such as 30%-65%'
      : need(typedLength(text, form.kit.unit));
  return wantedIn(form) === null
    ? 'a season needs a planned bore and a wood that is in the table; or give a clearance such as 0.15mm'
    : null;
}

/** The clearance in the air of making: as typed, or the usual one and what the season takes of it; null where that cannot be told. */
function wantedIn(form: NewJobForm): Length | null {
  const { values, kit } = form;
  const season = seasonIn(values.clearance);
  if (!season) {
    const typed = typedLength(values.clearance, kit.unit);
    return typed.ok ? typed.value : null;
  }
  const bore = typedSize(values['planned bore'], kit.unit);
  const wood = woodOf(values.wood, kit.unit);
  const lidWood = woodOf(values['lid wood'], kit.unit);
  if (!bore.ok || wood === undefined) return null;
  const woods = { wood, bored: boredIn(values), ...(lidWood === undefined ? {} : { lidWood }) };
  const loss = seasonLoss(woods, bore.value, season);
  return loss === null ? null : mm(kit.wanted + loss);
}

const boredIn = (values: NewJobForm['values']): Setup['bored'] =>
  values['bored part'] === 'body' ? 'body' : 'lid';

/** Letters that fit several woods, none of them the usual one, are refused with some of them; a wood in no table is kept as typed. */
function woodError(text: string, unit: LengthUnit): string | null {
  const fitting = text === '' ? [] : woodsFor(text, unit);
  if (fitting.length === 0 || woodMeant(text, unit)) return null;
  const names = fitting.slice(0, 4).map(({ trade }) => trade);
  return `which one: ${names.join('; ')}${fitting.length > 4 ? '; …' : ''}? Press the down arrow to pick.`;
}

const woodOf = (text: string, unit: LengthUnit): string | undefined =>
  text.trim() === '' ? undefined : (woodMeant(text, unit)?.id ?? text.trim());

/** The setup that a whole and sound form is; otherwise the form, standing on the first field that is wrong. */
export function setupFrom(form: NewJobForm): Setup | NewJobForm {
  const wrong = fieldsOf(form).findIndex((field) => errorIn(form, field) !== null);
  if (wrong >= 0) {
    const error = errorIn(form, fieldsOf(form)[wrong] ?? 'name');
    // What was just typed may be gone on with: `oak` is refused as several, `oak eur` is one.
    return { ...form, at: wrong, error, untouched: form.untouched || wrong !== form.at };
  }
  return soundSetup(form);
}

export const isForm = (result: Setup | NewJobForm): result is NewJobForm => 'values' in result;

/** What of a feed is kept with a job: what was proven on it is the kit's own. */
export const feedFactsOf = ({ proven: _, ...facts }: KitFeed): FeedFacts => facts;

function soundSetup(form: NewJobForm): Setup | NewJobForm {
  const { values, kit } = form;
  const pitch = parsePitch(values.pitch);
  const wanted = wantedIn(form);
  const season = seasonIn(values.clearance);
  const cutter = kit.cutters.find(({ name }) => name === values.cutter) ?? kit.cutters[0];
  const caliper = kit.calipers[0];
  if (!pitch.ok || wanted === null || !cutter || !caliper)
    return { ...form, error: 'the kit needs a cutter and a caliper' };
  const feed = kit.feeds.find(({ name }) => name === values.feed);
  const typedDepth = values.depth.trim() === '' ? null : typedSize(values.depth, kit.unit);
  const depth = typedDepth?.ok ? typedDepth.value : planDepth(pitch.value, cutter, feed);
  const bore = values['planned bore'].trim() === '' ? null : typedSize(values['planned bore'], kit.unit);
  const wood = woodOf(values.wood, kit.unit);
  const lidWood = woodOf(values['lid wood'], kit.unit);
  return {
    name: values.name.trim(),
    fit: values.fit === 'plain' ? 'plain' : 'threaded',
    pitch: pitch.value,
    starts: Number(values.starts),
    cutter,
    depth: { female: depth, male: depth },
    bored: boredIn(values),
    wanted,
    bounds: kit.bounds,
    unit: kit.unit,
    caliper,
    hardens: values.harden === 'yes' && !isByHand(form),
    ...(wood === undefined ? {} : { wood }),
    ...(lidWood === undefined ? {} : { lidWood }),
    ...(feed ? { feed: feedFactsOf(feed) } : {}),
    ...(isByHand(form) ? { byHand: true } : {}),
    ...(season ? { season: { ...season, remains: kit.wanted } } : {}),
    ...(kit.measuring ? { measuring: kit.measuring } : {}),
    ...(bore?.ok ? { plannedBore: bore.value } : {}),
  };
}
