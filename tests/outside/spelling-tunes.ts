/**
 * Traditional tunes as degrees, and what theory says of each degree in every key. Written down from memory of common
 * practice: song books for the tunes, any handbook of harmony for the scales. Nothing here is computed by the program.
 */

/** The twelve major scales (and F#, the twin of Gb) from the tonic up. */
export const MAJOR_SCALES = [
  'C D E F G A B',
  'Db Eb F Gb Ab Bb C',
  'D E F# G A B C#',
  'Eb F G Ab Bb C D',
  'E F# G# A B C# D#',
  'F G A Bb C D E',
  'Gb Ab Bb Cb Db Eb F',
  'F# G# A# B C# D# E#',
  'G A B C D E F#',
  'Ab Bb C Db Eb F G',
  'A B C# D E F# G#',
  'Bb C D Eb F G A',
  'B C# D# E F# G# A#',
] as const;

/** The twelve natural minor scales (and D#, the twin of Eb); after the bar the raised sixth and seventh. */
export const MINOR_SCALES = [
  'C D Eb F G Ab Bb | A B',
  'C# D# E F# G# A B | A# B#',
  'D E F G A Bb C | B C#',
  'Eb F Gb Ab Bb Cb Db | C D',
  'D# E# F# G# A# B C# | B# C##',
  'E F# G A B C D | C# D#',
  'F G Ab Bb C Db Eb | D E',
  'F# G# A B C# D E | D# E#',
  'G A Bb C D Eb F | E F#',
  'G# A# B C# D# E F# | E# F##',
  'A B C D E F G | F# G#',
  'Bb C Db Eb F Gb Ab | G A',
  'B C# D E F# G A | G# A#',
] as const;

/**
 * Tunes in degrees of their own mode: `5,` the fifth below the tonic, `1'` the tonic an octave up, `+` the raised sixth
 * or seventh of minor (in major the plain one), `#` and `b` a chromatic note that the printed tune raises or lowers.
 */
export const TUNES: readonly (readonly [string, string])[] = [
  [
    'Ah vous dirai-je, maman (France, 18th century)',
    '1 1 5 5 6 6 5 4 4 3 3 2 2 1 5 5 4 4 3 3 2 5 5 4 4 3 3 2 1 1 5 5 6 6 5 4 4 3 3 2 2 1',
  ],
  ['Frère Jacques (France)', '1 2 3 1 1 2 3 1 3 4 5 3 4 5 5 6 5 4 3 1 5 6 5 4 3 1 1 5, 1 1 5, 1'],
  [
    'Ode to Joy (Beethoven 1824)',
    '3 3 4 5 5 4 3 2 1 1 2 3 3 2 2 3 3 4 5 5 4 3 2 1 1 2 3 2 1 1 2 2 3 1 2 3 4 3 1 2 3 4 3 2 1 2 5,',
  ],
  ['Auld Lang Syne (Scotland)', '5, 1 1 1 3 2 1 2 3 1 1 3 5 6 6 5 3 3 1 2 1 2 3 1 6, 6, 5, 1'],
  [
    'Amazing Grace (New Britain, 1829)',
    '5, 1 3 1 3 2 1 6, 5, 5, 1 3 1 3 2 5 3 5 3 1 3 2 1 6, 5, 5, 1 3 1 3 2 1',
  ],
  [
    'Home on the Range (United States, 1873)',
    '5, 5, 1 2 3 1 +7, 6, 4 4 4 4 4 3 1 1 1 +7, 1 2 5, 5, 1 2 3 1 +7, 6, 4 4 4 4 4 3 2 1 +7, 1 2 1',
  ],
  ['Shenandoah (United States)', "5, 1 1 1 2 3 4 6 5 1' 7 6 5 6 5 3 5 5 6 3 5 3 2 1 2 3 1 3 6 5 1 2 3 1 2 1"],
  [
    'What Shall We Do with the Drunken Sailor (sea shanty)',
    "5 5 5 5 5 5 5 1 3 5 4 4 4 4 4 4 4 7, 2 4 5 5 5 5 5 5 5 +6 7 1' 7 5 4 2 1 1",
  ],
  [
    'Greensleeves (England, 16th century)',
    '1 3 4 5 6 5 4 2 7, 1 2 3 1 1 +7, 1 2 +7, 5, 1 3 4 5 6 5 4 2 7, 1 2 3 2 1 +7, +6, +7, 1',
  ],
  [
    'Scarborough Fair (England)',
    "1 1 5 5 2 3 2 1 5 7 1' 7 5 +6 4 5 1' 1' 1' 7 5 5 4 3 2 7, 1 5 4 3 2 1 7, 1",
  ],
  ['Für Elise (Beethoven 1810), opening', '5 #4 5 #4 5 2 4 3 1 3, 5, 1 2 5, +7, 2 3'],
];

/** The same with tunes that only make sense in major. */
export const MAJOR_TUNES: readonly (readonly [string, string])[] = [
  [
    'The Star-Spangled Banner (Smith, c. 1775), first lines',
    "5 3 1 3 5 1' 3' 2' 1' 3 #4 5 5 5 3' 2' 1' 7 6 7 1' 1' 5 3 1",
  ],
  ['The Entertainer (Joplin 1902), theme', "2 #2 3 1' 3 1' 3 1' 1' 2' #2' 3' 1' 2' 3' 7 2' 1'"],
  [
    'the chromatic scale up and down as handbooks print it',
    "1 #1 2 #2 3 4 #4 5 #5 6 #6 7 1' 7 b7 6 b6 5 b5 4 3 b3 2 b2 1",
  ],
];

const LETTERS = 'CDEFGAB';
const SEMITONES = [0, 2, 4, 5, 7, 9, 11];

function alterationOf(name: string): number {
  return name.endsWith('b') ? 1 - name.length : name.length - 1;
}

/** A name raised (1) or lowered (−1) by a semitone on the same letter. */
function altered(name: string, by: number): string {
  const alteration = alterationOf(name) + by;
  return name.charAt(0) + (alteration < 0 ? 'b'.repeat(-alteration) : '#'.repeat(alteration));
}

/** What is printed for a tune in a key: names with octave (the tonic in octave 4), and the MIDI numbers that sound. */
export function printed(degrees: string, scale: string): { names: string[]; midis: number[] } {
  const [natural = '', raised = ''] = scale.split(' | ');
  const notes = natural.split(' ');
  const [sixth, seventh] = raised === '' ? [notes[5]!, notes[6]!] : raised.split(' ');
  const tonicStep = LETTERS.indexOf(notes[0]!.charAt(0));
  const all = degrees.split(' ').map((text) => {
    const [, sign, number, marks] = /^([+#b]?)([1-7])([',]?)$/.exec(text)!;
    const plain = notes[Number(number) - 1]!;
    const name =
      sign === '+'
        ? number === '6'
          ? sixth!
          : seventh!
        : altered(plain, sign === '#' ? 1 : sign === 'b' ? -1 : 0);
    const steps = tonicStep + Number(number) - 1 + 7 * (marks === ',' ? 3 : marks === "'" ? 5 : 4);
    const octave = Math.floor(steps / 7);
    return {
      name: `${name}${octave}`,
      midi: 12 * (octave + 1) + SEMITONES[LETTERS.indexOf(name.charAt(0))]! + alterationOf(name),
    };
  });
  return { names: all.map((note) => note.name), midis: all.map((note) => note.midi) };
}
