// `lidwright season`: the humidity in which a lid runs, the clearance a range of humidity asks for, and moisture from air.
import { capitalised } from '../core/safe-text.ts';
import { inPercent } from '../core/units.ts';
import { equilibriumMoisture, type OutOfDomain, outOfDomainText } from '../core/wood/moisture.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { askOptions, OptionReader, settingOptions } from './options.ts';
import { answer, wrongUse } from './output.ts';
import { type Air, airQuantity, readSeason, SEASON_OPTIONS } from './season/options.ts';
import { answerSeason, isYes, seasonJson, seasonLines } from './season/report.ts';

const outOfDomain = (why: OutOfDomain, output: Output): ExitCode =>
  wrongUse('season', [`${capitalised(outOfDomainText(why))}.`], output);

/** `--emc`: the moisture that wood settles at in this air, by both equations. */
function tellMoisture(air: Air, typed: Typed, output: Output): ExitCode {
  const [handbook, newer] = [equilibriumMoisture('handbook', air), equilibriumMoisture('newer', air)];
  if (!handbook.ok) return outOfDomain(handbook.why, output);
  if (!newer.ok) return outOfDomain(newer.why, output);
  const mc = { handbook: handbook.value, newer: newer.value };
  const humidityRh = inPercent(air.humidity);
  return answer(typed, output, { mc, temperatureC: air.temperature, humidityRh }, [
    `In air of ${air.temperature.toFixed(0)} C and ${humidityRh.toFixed(0)} % humidity wood settles at ${mc.handbook.toFixed(1)} % moisture by the Handbook's equation, ${mc.newer.toFixed(1)} % by its newer one.`,
  ]);
}

function run(typed: Typed, output: Output): ExitCode {
  const options = new OptionReader(typed);
  if (options.isTyped('emc')) {
    const air = options.one('emc', airQuantity);
    return air ? tellMoisture(air, typed, output) : wrongUse('season', options.errors, output);
  }
  const settings = options.settings(['unit', 'runningFrom', 'wanted']);
  const question = readSeason(options, options.unitFor(settings, 'diameter'), settings.values);
  if (!question) return wrongUse('season', options.errors, output);
  const season = answerSeason(question);
  if (season.kind === 'out-of-domain') return outOfDomain(season, output);
  const lines = seasonLines(question, season, output.terminal ? output.columns : undefined);
  answer(typed, output, seasonJson(question, season), lines);
  return isYes(question, season) ? 0 : 1;
}

export const seasonCommand: CommandSpec = {
  name: 'season',
  summary: 'forecast the humidity in which a lid runs, and the clearance that a range of humidity needs',
  options: [
    ...askOptions(SEASON_OPTIONS),
    ...settingOptions(['unit']),
    { flags: '--json', about: 'print JSON: lengths in mm, humidity and moisture in percent' },
  ],
  example: {
    line: 'season --wood "maple, sugar" --diameter 52mm --clearance 0.2mm --made 20C,45% --room 20C',
    shows: 'the lid runs between about 38 and 52 % humidity; also the clearance that a whole year needs',
  },
  run,
};
