/** The tempos and bars that note lists, JSON and MIDI files may have, and so the options too. */

/** Beats a minute. */
export const TEMPO_BPM = { least: 4, most: 1000 } as const;
/** Beats in a bar. */
export const BAR_BEATS = { least: 1, most: 64 } as const;
