// `lidwright season`: the humidity in which a lid runs, the clearance a range of humidity asks for, and moisture from air.
import { inPercent } from '../core/units.ts';
import {
  equilibriumMoisture,
  type MoistureEquation,
  type OutOfDomain,
  outOfDomainText,
} from '../core/wood/moisture.ts';
import { GRAINS } from '../core/wood/movement.ts';
import { settingOptions } from '../kit/settings.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { settingsBeside, unitFor } from './command-settings.ts';
import { readOptions, unitTyped, wrongUse } from './options.ts';
import { type Air, parseAir, readSeason } from './season/options.ts';
import { answerSeason, isYes, seasonJson, seasonLines } from './season/report.ts';

const refuse = (why: OutOfDomain, output: Output): ExitCode =>
  wrongUse('season', [`${outOfDomainText(why)}.`], output);

/** `--emc`: the moisture that wood settles at in this air, by both equations. */
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
    `${where} wood settles at ${mc.handbook.toFixed(1)} % moisture by the Handbook's equation, ${mc.newer.toFixed(1)} % by its newer one.`,
  );
  return 0;
}

function run(typed: Typed, output: Output): ExitCode {
  const options = readOptions(typed);
  const json = typed.options.json === true;
  if (typed.options.emc !== undefined) {
    const air = options.optional('--emc', parseAir);
    return air ? tellMoisture(air, json, output) : wrongUse('season', options.errors, output);
  }
  const settings = settingsBeside(options, typed, ['unit', 'runningFrom', 'wanted']);
  const unit = unitFor(settings, unitTyped(typed, '--diameter'));
  const question = readSeason(options, unit, settings.values);
  if (!question) return wrongUse('season', options.errors, output);
  const answer = answerSeason(question);
  if (answer.kind === 'out-of-domain') return refuse(answer, output);
  const columns = output.terminal ? output.columns : undefined;
  if (json) output.data(JSON.stringify(seasonJson(question, answer)));
  else for (const line of seasonLines(question, answer, columns)) output.data(line);
  return isYes(question, answer) ? 0 : 1;
}

export const seasonCommand: CommandSpec = {
  name: 'season',
  summary: 'forecast the humidity in which a lid runs, and the clearance that a range of humidity needs',
  options: [
    { flags: '--wood <name>', about: 'part of its trade or botanical name: "maple, sugar" or "sug map"' },
    { flags: '--diameter <length>', about: 'diameter of the thread' },
    { flags: '--clearance <length>', about: 'clearance as made, on the diameter' },
    { flags: '--made <air>', about: 'air that the parts were made in: 20C,45%' },
    { flags: '--made-mc <percent>', about: 'moisture of the parts by a meter, instead of --made: 8.5%' },
    {
      flags: '--room <air>',
      about: 'air of the room where the box will live: 20C, or 20C,55% with its humidity today',
    },
    { flags: '--range <from,to>', about: 'humidity the lid must run in (30%,65%); exit code 1 if it binds' },
    {
      flags: '--grain <way>',
      about: 'end: axis along the grain; flat or quarter: axis across it, sawn that way (end)',
      offers: GRAINS,
    },
    {
      flags: '--shrinkage <radial,tangential>',
      about: "shrinkage of a wood that isn't in the table, green to oven-dry: 4.8%,9.9%",
    },
    { flags: '--lid-wood <name>', about: 'wood of the lid, if it differs' },
    { flags: '--lid-made <air>', about: 'air that the lid was made in, if it differs' },
    { flags: '--lid-made-mc <percent>', about: 'moisture of the lid by a meter, instead of --lid-made' },
    { flags: '--lid-grain <way>', about: 'grain of the lid, if it differs', offers: GRAINS },
    { flags: '--lid-shrinkage <radial,tangential>', about: 'shrinkage of the lid, if it differs' },
    {
      flags: '--bored <part>',
      about: 'bored part, lid or body; only matters if the two differ (lid)',
      offers: ['lid', 'body'],
    },
    { flags: '--emc <air>', about: 'only show the moisture that wood settles at in this air: 70F,50%' },
    ...settingOptions(['unit']),
    { flags: '--json', about: 'print JSON: lengths in mm, humidity and moisture in percent' },
  ],
  example: {
    line: 'season --wood "maple, sugar" --diameter 52mm --clearance 0.2mm --made 20C,45% --room 20C',
    shows: 'the lid runs between about 38 and 52 % humidity; also the clearance that a whole year needs',
  },
  run,
};
