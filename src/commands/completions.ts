// `lidwright completions`: a short script for each shell, which asks the program itself what may be typed next.
import {
  type ArgumentSpec,
  type CommandSpec,
  type ExitCode,
  HOME_OPTION,
  type LazyCommand,
  type OptionSpec,
  type Output,
  type Typed,
} from './command.ts';
import { answer, endWith } from './output.ts';

/** What a shell may offer: a word with what it is, or the names of files or folders. */
type Offer = { readonly word: string; readonly about: string } | ':files' | ':folders';

/** What the scripts send in place of a shell's name. */
const OFFER = 'offer';

const SCRIPTS: { readonly [shell in string]?: string } = {
  bash: `# bash completion for lidwright. To load it: source <(lidwright completions bash)
# To keep it: lidwright completions bash > ~/.local/share/bash-completion/completions/lidwright
_lidwright() {
  local word="\${COMP_WORDS[COMP_CWORD]}" line IFS=$'\\n'
  COMPREPLY=()
  while read -r line; do
    case "$line" in
      :files) compopt -o filenames 2>/dev/null; COMPREPLY+=($(compgen -f -- "$word")) ;;
      :folders) compopt -o filenames 2>/dev/null; COMPREPLY+=($(compgen -d -- "$word")) ;;
      *) COMPREPLY+=("\${line%%$'\\t'*}") ;;
    esac
  done < <(lidwright completions ${OFFER} -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -F _lidwright lidwright`,
  zsh: `#compdef lidwright
# zsh completion for lidwright. To load it: source <(lidwright completions zsh)
# To keep it: lidwright completions zsh > a folder of $fpath, as the file _lidwright
_lidwright() {
  local line
  local -a offers
  for line in "\${(@f)$(lidwright completions ${OFFER} -- "\${(@)words[2,CURRENT]}" 2>/dev/null)}"; do
    case "$line" in
      :files) _files ;;
      :folders) _files -/ ;;
      ?*) offers+=("\${\${line%%$'\\t'*}//:/\\\\:}:\${line#*$'\\t'}") ;;
    esac
  done
  (( \${#offers} )) && _describe lidwright offers
}
if [ "$funcstack[1]" = "_lidwright" ]; then _lidwright "$@"; else compdef _lidwright lidwright; fi`,
  fish: `# fish completion for lidwright. To load it: lidwright completions fish | source
# To keep it: lidwright completions fish > ~/.config/fish/completions/lidwright.fish
function __lidwright_offers
    set -l before (commandline -opc)
    set -l word (commandline -ct)
    for line in (lidwright completions ${OFFER} -- $before[2..-1] "$word" 2>/dev/null)
        switch $line
            case :files
                __fish_complete_path $word
            case :folders
                __fish_complete_directories $word
            case '*'
                echo $line
        end
    end
end
complete -c lidwright -f -k -a '(__lidwright_offers)'`,
};

const HELP: OptionSpec = { flags: '-h, --help', about: 'show this help' };

const longFlag = ({ flags }: OptionSpec): string => /--[a-z-]+/.exec(flags)?.[0] ?? '';
const placeholderOf = (text: string): string | undefined => /[<[]([^>\].]+)/.exec(text)?.[1];

function offersForValue(spec: OptionSpec | ArgumentSpec, placeholder: string): readonly Offer[] {
  const words = spec.choices ?? ('offers' in spec ? spec.offers : undefined);
  if (words) return words.map((word) => ({ word, about: spec.about }));
  if (placeholder === 'folder') return [':folders'];
  return placeholder === 'file' || placeholder === 'path' ? [':files'] : [];
}

/** The command that the words before the one being typed lead to, and the arguments given to it. */
function placeOf(spec: CommandSpec, words: readonly string[]): readonly [CommandSpec, readonly string[]] {
  const sub = spec.sub?.find(({ name }) => name === words[0]);
  return sub ? placeOf(sub, words.slice(1)) : [spec, words];
}

function offersIn(root: CommandSpec, words: readonly string[]): readonly Offer[] {
  const [spec, given] = placeOf(root, words.slice(0, -1));
  const options = [...spec.options, HOME_OPTION, HELP];
  const before = options.find((option) => longFlag(option) === given.at(-1));
  const placeholder = before && placeholderOf(before.flags);
  if (before && placeholder) return offersForValue(before, placeholder);
  const flags = options.map((option) => ({ word: longFlag(option), about: option.about }));
  if (words.at(-1)?.startsWith('-')) return flags;
  const subs = given.length === 0 ? (spec.sub ?? []) : [];
  const at = spec.arguments?.[given.length] ?? spec.arguments?.find(({ name }) => name.includes('...'));
  const named = [
    ...subs.map(({ name, summary }) => ({ word: name, about: summary })),
    ...(at ? offersForValue(at, placeholderOf(at.name) ?? '') : []),
  ];
  return named.length > 0 ? named : flags;
}

/** What the last of these words can be completed to. */
async function offersFor(
  commands: readonly LazyCommand[],
  words: readonly string[],
): Promise<readonly Offer[]> {
  const called = words.length > 1 && commands.find(({ name }) => name === words[0]);
  if (called) return offersIn(await called.load(), words.slice(1));
  const specs = await Promise.all(commands.map(({ load }) => load()));
  const [bench] = specs;
  const isFlag = words.length > 1 || words[0]?.startsWith('-');
  if (bench && isFlag) return offersIn(bench, words);
  return specs.map(({ name, summary }) => ({ word: name, about: summary }));
}

async function offer(
  commands: readonly LazyCommand[],
  words: readonly string[],
  output: Output,
): Promise<void> {
  const typed = words.at(-1) ?? '';
  for (const each of await offersFor(commands, words)) {
    if (typeof each === 'string') output.data(each);
    else if (each.word.startsWith(typed)) output.data(`${each.word}\t${each.about}`);
  }
}

async function run(typed: Typed, output: Output, commands: readonly LazyCommand[]): Promise<ExitCode> {
  const [shell, words] = typed.args;
  if (shell === OFFER) {
    await offer(commands, Array.isArray(words) ? words : [], output);
    return 0;
  }
  const script = SCRIPTS[String(shell)];
  if (script !== undefined) return answer(typed, output, {}, [script]);
  const known = Object.keys(SCRIPTS).join(', ');
  const unknown = `completions: "${String(shell)}" isn't a shell that lidwright knows. Give ${known}.`;
  return endWith(output, 2, unknown);
}

export const completionsCommand = (commands: readonly LazyCommand[]): CommandSpec => ({
  name: 'completions',
  summary: 'print a script that lets a shell complete commands, options and their values',
  arguments: [
    { name: '<shell>', about: 'bash, zsh or fish' },
    { name: '[words...]', about: 'words typed so far; only the script passes them' },
  ],
  options: [],
  example: {
    line: 'completions bash',
    shows: 'the script; its first lines say how to load it and where to keep it',
  },
  run: (typed, output) => run(typed, output, commands),
});
