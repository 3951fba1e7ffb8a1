/** Sight-singing labels in the ways of the people who made them, and in ours. */
import { hzToMidi, midiToHz } from '../../src/units.js';
import type { ScoredNote } from './note-scores.js';

/** Width of the bins that the labels' pitches lie on: 22,050 Hz over 4096. The labels run sharp by one, whatever the pitch. */
const BIN_HZ = 22_050 / 4096;
/**
 * Seconds that the labels' starts lie behind what the network is taught (LATE_SECONDS in
 * src/pitch/network/training/material.py): the vowel, not the arrival of the pitch, which others mark.
 */
const LATE_SECONDS = 0.01;

/**
 * The labels as they would be in our ways: a bin lower, and 10 ms earlier in their starts. Both are the same for every
 * recording and were seen on all of them: a network taught by these labels alone learns them without being told.
 */
export function inOurWays(labels: readonly ScoredNote[]): ScoredNote[] {
  return labels.map(({ start, end, pitch }) => ({
    start: start - LATE_SECONDS,
    end,
    pitch: hzToMidi(midiToHz(pitch) - BIN_HZ),
  }));
}
