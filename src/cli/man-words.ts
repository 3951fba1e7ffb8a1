/** What the manual says beside the help texts, as in docs/commands.md. */
export const EXIT_STATUSES: readonly (readonly [string, string])[] = [
  ['0', 'done'],
  [
    '1',
    'some inputs of several could not be read, a score is below --fail-under, or doctor found something missing',
  ],
  ['2', 'wrong usage, or a result that cannot be written or is already there'],
  ['3', 'the input cannot be read'],
  ['4', 'the input was read, and there is no melody in it'],
  ['70', 'a mistake in the program'],
  ['130', 'interrupted'],
];

export const ENVIRONMENT: readonly (readonly [string, string])[] = [
  ['NO_COLOR', 'with any value but the empty one: no colours'],
  ['FORCE_COLOR', '0 or false: no colours; any other value: colours also on a terminal that is dumb'],
  ['TERM', 'dumb: no colours, and no word that is wiped away'],
  ['CANTILENA_DEBUG', 'with any value but the empty one: the place in the program where an error arose'],
];

/** Paragraphs of the description. */
export const DESCRIPTION: readonly string[] = [
  'From a recording of one voice or instrument, or of a song with a band, cantilena writes the melody line by line, says how sure it is of each note, ranks the scales that hold the notes, and gives right-hand fingering. A command that takes a recording takes a note list, a melody as JSON or a MIDI file as well; what it is is told by its content, and - is standard input.',
  'Results go to standard output, words for people to standard error. On a terminal a melody is laid out for reading, in a pipe it is a note list.',
  'Rest often when you practise, and stop when it hurts. A teacher’s advice comes first, and hands differ.',
];
