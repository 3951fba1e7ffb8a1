/** The completions for bash. */
import { type CommandCompletion, quoted, type Values } from './completions-tree.js';

/** Option values are told by command and option, in one pattern for all that take the same. */
export function bashCompletions(commands: readonly CommandCompletion[]): string {
  const names = commands.map(({ name }) => name);
  return `# Completions of cantilena for bash, written by: cantilena completions bash
_cantilena_words() {
  local found
  while IFS= read -r found; do COMPREPLY+=("$found"); done < <(compgen -W "$1" -- "$word")
}

# Where nothing else was found, the shell completes names of files itself.
_cantilena_files() {
  local found
  compopt -o filenames -o default 2>/dev/null
  while IFS= read -r found; do COMPREPLY+=("$found"); done < <(compgen -f -- "$word")
}

_cantilena_folders() {
  local found
  compopt -o filenames -o dirnames 2>/dev/null
  while IFS= read -r found; do COMPREPLY+=("$found"); done < <(compgen -d -- "$word")
}

_cantilena() {
  local word=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD - 1]} command=notes
  COMPREPLY=()
  # --option=value comes as three words.
  if [[ $word == '=' ]]; then
    word=
  elif [[ $before == '=' ]]; then
    before=\${COMP_WORDS[COMP_CWORD - 2]}
  fi
  if ((COMP_CWORD > 1)); then
    case \${COMP_WORDS[1]} in
      ${names.join(' | ')}) command=\${COMP_WORDS[1]} ;;
    esac
  fi
  case "$command $before" in
${cases(optionValues(commands), '    ')}
  esac
  if [[ $word == -* ]]; then
    ((COMP_CWORD == 1)) && _cantilena_words '--version'
    case $command in
${commands
  .filter(({ options }) => options.length > 0)
  .map(({ name, options }) => `      ${name}) _cantilena_words ${quoted(flagsOf(options).join(' '))} ;;`)
  .join('\n')}
    esac
    return
  fi
  ((COMP_CWORD == 1)) && _cantilena_words ${quoted(names.join(' '))}
  case $command in
${cases(argumentValues(commands), '    ')}
  esac
}

complete -F _cantilena cantilena
`;
}

type Place = readonly [pattern: string, values: Values];

function flagsOf(options: CommandCompletion['options']): string[] {
  return options.flatMap(({ flags }) => flags);
}

function optionValues(commands: readonly CommandCompletion[]): Place[] {
  return commands.flatMap(({ name, options }) =>
    options.flatMap(({ flags, value }) =>
      value === null ? [] : flags.map((flag): Place => [quoted(`${name} ${flag}`), value.values]),
    ),
  );
}

function argumentValues(commands: readonly CommandCompletion[]): Place[] {
  return commands.flatMap(({ name, argument }) => (argument === null ? [] : [[name, argument]]));
}

/** Branches of a case, one for each kind of value. */
function cases(places: readonly Place[], indent: string): string {
  const patterns = new Map<string, string[]>();
  for (const [pattern, values] of places) {
    const call = callFor(values);
    patterns.set(call, [...(patterns.get(call) ?? []), pattern]);
  }
  return [...patterns].map(([call, all]) => `${indent}${all.join(' | ')}) ${call} ;;`).join('\n');
}

function callFor(values: Values): string {
  switch (values.kind) {
    case 'words':
      return `_cantilena_words ${quoted(values.words.join(' '))}; return`;
    case 'files':
      return '_cantilena_files; return';
    case 'folders':
      return '_cantilena_folders; return';
    case 'free':
      return 'return';
  }
}
