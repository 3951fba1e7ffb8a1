"""Backing choirs for made bands: the made voices on long notes of the chords, so that a lead is told from them."""

from __future__ import annotations

import numpy as np

from curves import controls_of
from effects import room, to_level
from performance import Syllable
from singer import another_take, draw_singer
from tunes import Chord
from voice_sound import sing

VOWEL_CHOICES = (4, 7, 5)
"""ah, oo, aw of singer.VOWELS."""


def backing_choir(chords: list[Chord], bpm: float, seconds: float, rng: np.random.Generator) -> np.ndarray:
    """Two to four voices holding chord notes, with rests of whole chords, in a room; loud part at −20 dB."""
    beat = 60 / bpm
    total = np.zeros(round(seconds * 200) * 80)
    vowel = int(rng.choice(VOWEL_CHOICES))
    base = int(rng.integers(50, 66))
    silent = rng.random(len(chords)) < 0.25
    lead = draw_singer(rng, "voice")
    for part in range(int(rng.integers(2, 5))):
        singer = another_take(lead, rng)
        singer.sub, singer.breaths, singer.size = 0.0, 0.0, 1.0 + (base + 4 * part - 50) * 0.008
        syllables: list[Syllable] = []
        for index, chord in enumerate(chords):
            keys = [key for key in range(base, base + 26) if (key - chord.root) % 12 in {t % 12 for t in chord.tones}]
            on = chord.start * beat + rng.normal(0, 0.025) + 0.05
            off = min((chord.start + chord.beats) * beat - 0.03, seconds - 0.1)
            if off < on + 0.15 or silent[index] or (syllables and on < syllables[-1].on + 0.1):
                continue
            near = bool(syllables) and on - syllables[-1].off < 0.15
            if near:
                syllables[-1].off = on
            syllables.append(
                Syllable(
                    on=on, off=off, midi=keys[part % len(keys)] + singer.tuning * 0.2 + rng.normal(0, 0.06),
                    onset="joined" if near else "none", lead=0.0, attack=rng.uniform(0.04, 0.25),
                    release=rng.uniform(0.05, 0.3),
                    glide=rng.uniform(0.04, 0.12), scoop=0.0, fall=0.0, vowel=vowel, gain=1.0,
                    vibrato=singer.vibrato * 0.6, kind=int(rng.integers(0, 1000)),
                )
            )  # fmt: skip
        if syllables:
            total += sing(controls_of(syllables, singer, seconds, rng), rng, 0.0) * rng.uniform(0.6, 1)
    return to_level(room(total, rng, rng.uniform(0.6, 3), rng.uniform(0.3, 0.9)), -20)
