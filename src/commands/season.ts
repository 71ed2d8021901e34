// `lidwright season`: the humidity in which a lid runs, the clearance a range of humidity asks for, and moisture from air.
import { inPercent } from '../core/units.ts';
import {
  equilibriumMoisture,
  type MoistureEquation,
  type OutOfDomain,
  outOfDomainText,
} from '../core/wood/moisture.ts';
import { settingOptions } from '../kit/settings.ts';
import { askOf, unitTyped, wrongUse } from './asking.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { heededBeside, unitHeeded } from './heeded.ts';
import { answerSeason, isYes, seasonJson } from './season-answer.ts';
import { readSeason } from './season-asked.ts';
import { type Air, parseAir } from './season-quantities.ts';
import { seasonLines } from './season-words.ts';

const refuse = (why: OutOfDomain, output: Output): ExitCode =>
  wrongUse('season', [`${outOfDomainText(why)}.`], output);

/** `--emc`: moisture of wood at rest in this air, by both equations. */
function tellMoisture(air: Air, json: boolean, output: Output): ExitCode {
  const [handbook, newer] = (['handbook', 'newer'] satisfies MoistureEquation[]).map((by) =>
    equilibriumMoisture(by, air),
  );
  if (!handbook?.ok) return handbook ? refuse(handbook.why, output) : 2;
  if (!newer?.ok) return newer ? refuse(newer.why, output) : 2;
  const mc = { handbook: handbook.value, newer: newer.value };
  if (json) {
    const given = { temperatureC: air.temperature, humidityRh: inPercent(air.humidity) };
    output.data(JSON.stringify({ mc, ...given }));
    return 0;
  }
  const where = `In air of ${air.temperature.toFixed(0)} C and ${inPercent(air.humidity).toFixed(0)} % humidity`;
  output.data(
    `${where} wood comes to rest at ${mc.handbook.toFixed(1)} % moisture by the Handbook's equation, ${mc.newer.toFixed(1)} % by its newer one.`,
  );
  return 0;
}

function run(typed: Typed, output: Output): ExitCode {
  const ask = askOf(typed);
  const json = typed.options.json === true;
  if (typed.options.emc !== undefined) {
    const air = ask.optional('--emc', parseAir);
    return air ? tellMoisture(air, json, output) : wrongUse('season', ask.complaints, output);
  }
  const unit = unitHeeded(heededBeside(ask, typed, ['unit']), unitTyped(typed, '--diameter'));
  const asked = readSeason(ask, unit);
  if (!asked) return wrongUse('season', ask.complaints, output);
  const answer = answerSeason(asked);
  if (answer.kind === 'out-of-domain') return refuse(answer, output);
  if (json) output.data(JSON.stringify(seasonJson(asked, answer)));
  else
    for (const line of seasonLines(asked, answer, output.terminal ? output.columns : undefined))
      output.data(line);
  return isYes(asked, answer) ? 0 : 1;
}

const GRAIN_CHOICES = ['end', 'flat', 'quarter'] as const;

export const seasonCommand: CommandSpec = {
  name: 'season',
  summary: 'The room humidity in which a lid runs, and the clearance that a range of humidity asks for.',
  options: [
    { flags: '--wood <name>', about: 'part-words of its trade or botanical name: "maple, sugar", "sug map"' },
    { flags: '--diameter <length>', about: 'of the thread' },
    { flags: '--clearance <length>', about: 'diametral, as made' },
    { flags: '--made <air>', about: 'the air the parts were made in: 20C,45%' },
    { flags: '--made-mc <percent>', about: 'or their moisture by a meter: 8.5%' },
    { flags: '--room <air>', about: 'where the box will live (20C); with its humidity of now: 20C,55%' },
    {
      flags: '--range <from,to>',
      about: 'the humidity it must stand (30%,65%); exit code 1 when it binds in it',
    },
    {
      flags: '--grain <way>',
      about: 'end: axis along the grain; flat, quarter: across it, sawn so (end)',
      choices: GRAIN_CHOICES,
    },
    {
      flags: '--shrinkage <radial,tangential>',
      about: 'for a wood in no table, green to oven-dry: 4.8%,9.9%',
    },
    { flags: '--lid-wood <name>', about: 'of the lid, where it is another wood' },
    { flags: '--lid-made <air>', about: 'where the lid was made in other air' },
    { flags: '--lid-made-mc <percent>', about: 'or its moisture by a meter' },
    { flags: '--lid-grain <way>', about: 'of the lid, where it differs', choices: GRAIN_CHOICES },
    { flags: '--lid-shrinkage <radial,tangential>', about: 'of the lid, where it is another wood' },
    {
      flags: '--bored <part>',
      about: 'which part is bored; it matters where they differ (lid)',
      choices: ['lid', 'body'],
    },
    { flags: '--emc <air>', about: 'only the moisture that wood comes to in this air: 70F,50%' },
    ...settingOptions(['unit']),
    { flags: '--json', about: 'the answer as JSON: mm, and percent of humidity and moisture' },
  ],
  example: {
    line: 'season --wood "maple, sugar" --diameter 52mm --clearance 0.2mm --made 20C,45% --room 20C',
    shows: 'that the lid runs between about 33 and 56 % humidity, and what a whole year would ask for',
  },
  run,
};
