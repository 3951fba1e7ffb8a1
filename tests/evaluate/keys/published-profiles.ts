/** Key profiles from the literature, tonic first, for comparison. */
import { KOSTKA_PAYNE_MAJOR, KOSTKA_PAYNE_MINOR } from '../../../src/theory/profiles.js';

export interface PublishedProfile {
  readonly name: string;
  readonly major: readonly number[];
  readonly minor: readonly number[];
}

export const PUBLISHED_PROFILES: readonly PublishedProfile[] = [
  {
    // Krumhansl & Kessler, Psychological Review 89 (1982), 334–368.
    name: 'Krumhansl & Kessler 1982',
    major: [6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88],
    minor: [6.33, 2.68, 3.52, 5.38, 2.6, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17],
  },
  {
    // Temperley, Music Perception 17 (1999), 65–100.
    name: 'Temperley 1999',
    major: [5, 2, 3.5, 2, 4.5, 4, 2, 4.5, 2, 3.5, 1.5, 4],
    minor: [5, 2, 3.5, 4.5, 2, 4, 2, 4.5, 3.5, 2, 1.5, 4],
  },
  {
    name: 'Temperley 2007, Kostka-Payne',
    major: KOSTKA_PAYNE_MAJOR,
    minor: KOSTKA_PAYNE_MINOR,
  },
  {
    // Bellmann 2005 after Budge 1943.
    name: 'Bellmann 2005',
    major: [16.8, 0.86, 12.95, 1.41, 13.49, 11.93, 1.25, 20.28, 1.8, 8.04, 0.62, 10.57],
    minor: [18.16, 0.69, 12.99, 13.34, 1.07, 11.15, 1.38, 21.07, 7.49, 1.53, 0.92, 10.21],
  },
  {
    // Aarden 2003, from melodies of the Essen collection.
    name: 'Aarden 2003, Essen',
    major: [
      17.7661, 0.145624, 14.9265, 0.160186, 19.8049, 11.3587, 0.291248, 22.062, 0.145624, 8.15494, 0.232998,
      4.95122,
    ],
    minor: [
      18.2648, 0.737619, 14.0499, 16.8599, 0.702494, 14.4362, 0.702494, 18.6161, 4.56621, 1.93186, 7.37619,
      1.75623,
    ],
  },
  {
    // Albrecht & Shanahan, Music Perception 31 (2013), 59–67. A copy with .034 at the end of the major row is wrong.
    name: 'Albrecht & Shanahan 2013',
    major: [0.238, 0.006, 0.111, 0.006, 0.137, 0.094, 0.016, 0.214, 0.009, 0.08, 0.008, 0.081],
    minor: [0.22, 0.006, 0.104, 0.123, 0.019, 0.103, 0.012, 0.214, 0.062, 0.022, 0.061, 0.052],
  },
];
