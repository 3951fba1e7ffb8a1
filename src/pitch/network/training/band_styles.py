"""Which instruments make up a made band, by style, and the arrangement of a whole piece as MIDI.

Programs are General MIDI numbers from 0. A style is only a leaning: a third of all layers come from any family.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from band_parts import Layer, add_bass, add_chords, add_riff
from drum_parts import DRUMS, add_drums
from midi_file import MidiTrack
from tunes import MAJOR, MINOR, Chord

PIANO, E_PIANO, BELLS, ORGAN = (0, 1, 2, 3), (4, 5, 6, 7), (8, 9, 10, 11, 12, 13, 14, 46, 108), (16, 17, 18, 19, 20, 21)
ACOUSTIC, CLEAN, DRIVEN = (24, 25, 25, 104, 105), (26, 27, 28, 27), (29, 30, 29, 30)
STRINGS, SOLO_STRINGS, PLUCKED = (48, 49, 50, 51, 44), (40, 41, 42, 110), (45, 46, 107)
VOICES = (52, 53, 54, 85, 91)
BRASS, HORNS, REEDS, FLUTES = (61, 62, 63, 60, 57), (56, 57, 59, 60), (64, 65, 66, 67, 71, 68), (72, 73, 74, 75, 78, 79)
LEADS, PADS, EFFECTS = (80, 81, 82, 83, 84, 86, 87), (88, 89, 90, 92, 93, 94, 95), (96, 97, 98, 99, 100, 102)
ANY = PIANO + E_PIANO + BELLS + ORGAN + ACOUSTIC + CLEAN + DRIVEN
ANY += STRINGS + VOICES + BRASS + REEDS + LEADS + PADS + EFFECTS
MELODIC = SOLO_STRINGS + HORNS + REEDS + FLUTES + LEADS + DRIVEN + CLEAN + BELLS + E_PIANO + VOICES + (22, 23, 109, 111)
COMP, ARP = ("comp", "pulse", "comp", "strum"), ("arpeggio", "alberti", "arpeggio")

@dataclass(frozen=True)
class Style:
    """A leaning of a piece."""

    weight: float
    """How often, against the others."""
    drums: str | None
    """Kind of pattern in drum_parts, `any`, or none."""
    bpm: tuple[float, float]
    basses: tuple[int, ...]
    """Programs; empty for no bass."""
    lines: tuple[str, ...]
    """What the bass may play."""
    layers: tuple[tuple[tuple[int, ...], tuple[str, ...]], ...]
    """Programs and patterns of the instruments that may take part."""
    swing: float = 0.0
    """Beats by which every second half-beat is late."""


STYLES: dict[str, Style] = {
    "rock": Style(
        2.5, "rock", (95, 165), (33, 34, 36, 37), ("pulse", "syncopated"),
        ((DRIVEN, ("power", "palm")), (CLEAN + DRIVEN, COMP + ARP), (ORGAN + PIANO + PADS, ("pad", "comp"))),
    ),
    "metal": Style(
        1, "metal", (110, 190), (34, 36), ("pulse", "syncopated"),
        (((30,), ("palm", "power")), ((29, 30), ("power", "tremolo")), (VOICES + STRINGS, ("pad",))),
    ),
    "dance": Style(
        2, "dance", (110, 140), (38, 39, 87), ("pulse", "octaves", "syncopated"),
        ((LEADS, ("arpeggio", "comp")), (PADS + STRINGS, ("pad", "pulse")), (LEADS + (62, 63), ("stab", "comp"))),
    ),
    "ballad piano": Style(
        1.5, None, (55, 90), (), ("held",), ((PIANO + E_PIANO, ARP + ("pulse", "comp", "pad")),),
    ),
    "string quartet": Style(
        0.8, None, (60, 120), (42, 43, 48), ("held", "fifths", "pulse"),
        (((40, 41), ("pad", "pulse", "comp")), ((41, 42), ("pad", "arpeggio")),
         (SOLO_STRINGS + PLUCKED, ("pad", "tremolo", "comp"))),
    ),
    "acoustic guitar": Style(
        1.5, None, (65, 140), (), ("held",), ((ACOUSTIC, ("strum", "arpeggio", "comp", "alberti")),),
    ),
    "big band": Style(
        1.2, "soft", (90, 200), (32,), ("walking",),
        ((BRASS, ("comp", "stab")), (REEDS, ("comp", "pad")), (PIANO + (26,), ("comp",))), swing=0.17,
    ),
    "pop": Style(
        3, "rock", (75, 130), (32, 33, 33, 38), ("syncopated", "pulse", "held"),
        ((PIANO + E_PIANO, COMP + ARP), (ACOUSTIC + CLEAN, ("strum", "arpeggio")), (STRINGS + PADS, ("pad",)),
         (ANY, COMP + ARP)),
    ),
    "funk": Style(
        1.2, "hip", (88, 120), (36, 37, 33), ("syncopated", "octaves"),
        (((27, 28), ("comp", "tremolo")), (E_PIANO + ORGAN, ("comp", "stab")), (BRASS + REEDS, ("stab", "comp"))),
    ),
    "hip": Style(
        1.5, "hip", (68, 105), (38, 39, 33), ("held", "syncopated"),
        ((BELLS + E_PIANO + PIANO, ARP + ("comp",)), (PADS + VOICES + STRINGS, ("pad",)),
         (PLUCKED + LEADS, ("arpeggio",))),
    ),
    "latin": Style(
        1.2, "latin", (80, 135), (32, 33, 35), ("fifths", "syncopated"),
        (((24, 0, 25), ("comp", "arpeggio")), (FLUTES + BRASS, ("comp", "stab")), (STRINGS + ORGAN, ("pad",))),
    ),
    "reggae": Style(
        0.8, "reggae", (65, 95), (33, 32), ("syncopated",),
        (((27, 28, 16), ("stab",)), (ORGAN + E_PIANO, ("stab", "comp")), (BRASS, ("comp",))),
    ),
    "orchestra": Style(
        1, None, (55, 120), (43, 42, 58, 70), ("held", "fifths"),
        ((STRINGS, ("pad", "tremolo", "pulse")), ((60, 57, 61), ("pad", "comp")),
         (FLUTES + REEDS, ARP + ("pad",)), ((46, 45, 11), ARP)),
    ),
    "organ": Style(
        0.7, "soft", (60, 110), (33, 32, 19), ("held", "walking"),
        ((ORGAN, ("pad", "comp")), (PIANO, COMP + ARP), (VOICES, ("pad",))),
    ),
    "anything": Style(
        2, "any", (60, 170), tuple(range(32, 40)), ("held", "pulse", "octaves", "walking", "fifths", "syncopated"),
        ((ANY, COMP + ARP + ("pad", "stab", "tremolo", "power")),) * 3,
    ),
}  # fmt: skip


def random_layer(rng: np.random.Generator, channel: int, low: int, pattern: str, bar: int, swing: float) -> Layer:
    """A layer with drawn loudness, rhythm, length and the sections in which it plays."""
    strikes = rng.choice(bar * 4, int(rng.integers(2, 8)), replace=False)
    sections = [True] * 4 if rng.random() < 0.6 else [bool(flag) for flag in rng.random(4) < 0.65]
    return Layer(
        channel=channel,
        low=low,
        velocity=float(rng.uniform(50, 115)),
        pattern="comp" if pattern == "strum" else pattern,
        mask=[int(step) for step in strikes],
        swing=swing,
        length=float(rng.choice([0.45, 0.8, 0.95, 1.0])),
        spread=float(rng.uniform(0.01, 0.05)) if pattern == "strum" else float(rng.choice([0, 0, 0.004])),
        sections=sections if any(sections) else [True],
    )


def set_up(track: MidiTrack, rng: np.random.Generator, channel: int, program: int, beats: float) -> None:
    """Instrument, volume, place, reverb and chorus, and sometimes slow swells of expression."""
    track.program(channel, program)
    track.control(channel, 0, 7, rng.uniform(55, 118))
    track.control(channel, 0, 10, rng.uniform(20, 108))
    track.control(channel, 0, 91, rng.uniform(0, 90))
    track.control(channel, 0, 93, rng.uniform(0, 60))
    if rng.random() < 0.35:
        period, depth = rng.uniform(4, 16), rng.uniform(10, 45)
        for beat in np.arange(0, beats, 0.5):
            track.control(channel, float(beat), 11, 127 - depth * (1 + np.sin(2 * np.pi * beat / period)))


def arrange(rng: np.random.Generator, style: str, chords: list[Chord], beats: float, bar: int) -> MidiTrack:
    """A piece in a style, as a track; the tempo is left to the caller."""
    recipe = STYLES[style]
    track = MidiTrack()
    swing = recipe.swing if rng.random() < 0.9 else 0.0
    if style in ("pop", "hip", "funk", "acoustic guitar", "anything") and rng.random() < 0.2:
        swing = float(rng.uniform(0.06, 0.17))
    channels = [channel for channel in range(16) if channel != DRUMS]
    alone = len(recipe.layers) == 1
    count = 1 if alone else int(rng.integers(1, len(recipe.layers) + 1))
    chosen = [recipe.layers[i] for i in sorted(rng.choice(len(recipe.layers), count, replace=False))]
    if not alone and rng.random() < 0.35:
        chosen.append((ANY, COMP + ARP + ("pad", "stab")))
    for programs, patterns in chosen:
        pattern = str(rng.choice(patterns))
        low = int(rng.integers(36, 44)) if pattern in ("power", "palm") else int(rng.integers(43, 66))
        channel = channels.pop(0)
        set_up(track, rng, channel, int(rng.choice(programs)), beats)
        add_chords(track, rng, random_layer(rng, channel, low, pattern, bar, swing), chords, bar)
    if recipe.basses and rng.random() < 0.93:
        channel = channels.pop(0)
        set_up(track, rng, channel, int(rng.choice(recipe.basses)), beats)
        line = str(rng.choice(recipe.lines))
        add_bass(track, rng, random_layer(rng, channel, int(rng.integers(28, 35)), line, bar, swing), chords, bar)
    counts: dict[int, float] = {}
    for chord in chords:
        for tone in chord.tones:
            counts[(chord.root + tone) % 12] = counts.get((chord.root + tone) % 12, 0) + chord.beats
    scales = [[(tonic + step) % 12 for step in mode] for tonic in range(12) for mode in (MAJOR, MINOR)]
    scale = max(scales, key=lambda keys: sum(counts.get(key, 0) for key in keys))
    for _ in range(int(rng.choice([0, 1, 2, 3], p=[0.35, 0.4, 0.18, 0.07]))):
        channel = channels.pop(0)
        set_up(track, rng, channel, int(rng.choice(MELODIC if rng.random() < 0.8 else ANY)), beats)
        layer = random_layer(rng, channel, int(rng.integers(50, 75)), "riff", bar, swing)
        add_riff(track, rng, layer, chords, bar, scale)
    if recipe.drums and rng.random() < 0.92:
        add_drums(track, rng, recipe.drums, beats, bar, swing)
    return track
