// Completions for zsh: one function for each place, built on its own _arguments.
import { quoted } from './bash.ts';
import { type Flag, type Offer, type Place, type Positional, placesIn, plainText } from './grammar.ts';

/** Text within a specification of _arguments: what would end a part is escaped (zshcompsys, _arguments). */
const escaped = (text: string): string => plainText(text).replace(/[\\[\]:]/g, '\\$&');

function action(offer: Offer): string {
  switch (offer.kind) {
    case 'words':
      return `(${offer.words.join(' ')})`;
    case 'files':
      return '_files';
    case 'folders':
      return '_files -/';
    case 'nothing':
      return '';
    default:
      return offer satisfies never;
  }
}

function flagSpecs({ names, value, about }: Flag): readonly string[] {
  const others = names.length > 1 ? `(${names.join(' ')})` : '';
  const repeated = value?.many ? '*' : others;
  const taken = value ? `:${escaped(value.name)}:${action(value.offer)}` : '';
  return names.map((name) => quoted(`${repeated}${name}[${escaped(about)}]${taken}`));
}

const positionalSpec = (positional: Positional, at: number): string => {
  const place = positional.many ? '*' : `${at + 1}`;
  const optional = positional.needed || positional.many ? ':' : '::';
  return quoted(`${place}${optional}${escaped(positional.name)}:${action(positional.offer)}`);
};

const functionName = (path: readonly string[]): string =>
  ['_lidwright', ...path].join('_').replaceAll('-', '_');

const specs = (place: Place): readonly string[] => place.flags.flatMap(flagSpecs);

function leafFunction(place: Place): string {
  const all = [...specs(place), ...place.positionals.map(positionalSpec)];
  return `${functionName(place.path)}() {\n  _arguments -s \\\n    ${all.join(' \\\n    ')}\n}`;
}

function branchFunction(place: Place): string {
  const described = place.subs.map(({ path, summary }) =>
    quoted(`${path.at(-1) ?? ''}:${plainText(summary).replaceAll(':', '\\:')}`),
  );
  const calls = place.subs.map(({ path }) => `        ${path.at(-1)}) ${functionName(path)} ;;`);
  return `${functionName(place.path)}() {
  local curcontext="$curcontext" state line
  local -a commands
  commands=(
    ${described.join('\n    ')}
  )
  _arguments -C \\
    ${specs(place).join(' \\\n    ')} \\
    '1: :->command' '*:: :->rest'
  case $state in
    command) _describe -t commands 'lidwright command' commands ;;
    rest)
      case $words[1] in
${calls.join('\n')}
      esac ;;
  esac
}`;
}

/** The script, for a file named `_lidwright` in a folder of $fpath, or to be sourced. */
export function zshScript(root: Place): string {
  const functions = placesIn(root).map((place) =>
    place.subs.length > 0 ? branchFunction(place) : leafFunction(place),
  );
  return `#compdef lidwright
# zsh completion for lidwright, made from its command definitions.
# To load it: source <(lidwright completions zsh)
# To keep it: lidwright completions zsh > a folder of $fpath, as the file _lidwright
${functions.join('\n')}
if [ "$funcstack[1]" = "_lidwright" ]; then
  _lidwright "$@"
elif (( $+functions[compdef] )); then
  compdef _lidwright lidwright
fi`;
}
