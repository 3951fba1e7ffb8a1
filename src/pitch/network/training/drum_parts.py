"""Drum parts: patterns of a bar in steps of a quarter of a beat, varied, with fills, cymbals and hand percussion.

Patterns are common practice in the styles that they are named after; General MIDI percussion keys throughout.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from midi_file import MidiTrack

KICKS = {
    "rock": [
        "x.......x.......", "x.....x.x.......", "x..x....x.x.....", "x.x.....x..x..x.", "x.......x.x.....",
        "x.....x...x.....",
    ],
    "dance": ["x...x...x...x..."],
    "soft": ["x...............", "x.......x.......", "x.........x....."],
    "hip": ["x..x......x..x..", "x.....x..x......", "x......x..x....x", "x..x..x.....x..."],
    "latin": ["x..xx..xx..xx..x", "x.....x.x.....x."],
    "metal": ["xxxxxxxxxxxxxxxx", "x.x.x.x.x.x.x.x.", "xx.xxx.xxx.xxx.x"],
    "reggae": ["........x.......", "x.......x......."],
}  # fmt: skip
SNARES = {
    "rock": ["....x.......x...", "....x.......x..x", "....x..o.o..x...", "........x......."],
    "dance": ["....x.......x...", "................"],
    "soft": ["....x.......x...", "........x.......", "................"],
    "hip": ["....x.......x...", "....x.......x.o.", "....x..o....x..o"],
    "latin": ["x..x..x...x.x...", "..x..x....x..x.."],
    "metal": ["....x.......x...", "..x...x...x...x."],
    "reggae": ["........x......."],
}
HATS = {
    "rock": ["x.x.x.x.x.x.x.x.", "x...x...x...x...", "xoxoxoxoxoxoxoxo", "x.xox.xox.xox.xo"],
    "dance": ["..x...x...x...x.", "xoxoxoxoxoxoxoxo", "oox.oox.oox.oox."],
    "soft": ["x...x...x...x...", "x.o.x.o.x.o.x.o.", "................"],
    "hip": ["x.x.x.x.x.x.x.x.", "x.xxx.x.x.x.xxxx", "xxxxxxxxxxxxxxxx"],
    "latin": ["x.xxx.xxx.xxx.xx", "x.x.x.x.x.x.x.x."],
    "metal": ["x...x...x...x...", "x.x.x.x.x.x.x.x."],
    "reggae": ["x.x.x.x.x.x.x.x.", "x..ox..ox..ox..o"],
}
EXTRAS = [
    (70, "xoxoxoxoxoxoxoxo"), (82, "x.o.x.o.x.o.x.o."), (54, "....x.......x..."), (54, "x.o.x.o.x.o.x.o."),
    (39, "....x.......x..."), (39, "....x..x....x..."), (62, "x..x..x...x.x..."), (64, "x..ox.oox..ox.oo"),
    (56, "x...x...x...x..."), (75, "x..x..x...x.x..."), (76, "x.x.x.xx.x.x.x.x"), (69, "xoxoxoxoxoxoxoxo"),
    (37, "....x.......x..."), (80, "x.......x......."), (61, "..x...xx..x...xx"), (85, "x...x...x...x..."),
]  # fmt: skip
"""Shaker, tambourine, claps, congas, cowbell, claves, blocks, cabasa, rim, triangle, bongo, castanets."""
KITS = (0, 8, 16, 24, 25, 32, 40, 48)
"""Standard, room, power, electronic, analogue, jazz, brush, orchestra (General MIDI level 2 programs)."""
DRUMS = 9
"""The channel of drums, counted from 0."""


def lay(
    track: MidiTrack,
    rng: np.random.Generator,
    pattern: str,
    beat: float,
    key: int,
    velocity: float,
    late: Callable[[int], float],
) -> None:
    """Puts one bar of a pattern (x stroke, o soft stroke) at a beat; late(step) moves steps for swing."""
    for step, mark in enumerate(pattern):
        if mark != ".":
            soft = 0.55 if mark == "o" else 1.0
            at = beat + step / 4 + late(step) + rng.normal(0, 0.008)
            track.note(DRUMS, at, 0.15, key, velocity * soft * rng.uniform(0.85, 1.1))


def add_drums(track: MidiTrack, rng: np.random.Generator, style: str, beats: float, bar: int, swing: float) -> None:
    """A whole drum part: a basic bar that is kept and varied, a fill every four or eight bars, hand percussion.

    bar is 4 or 3 beats; swing is how late (beats) every second half-beat comes.
    """
    kind = style if style in KICKS else str(rng.choice(list(KICKS)))
    kit = {"dance": (24, 25, 0), "hip": (25, 24, 8, 0), "metal": (16, 8), "soft": (0, 32, 40, 48, 8)}.get(kind, KITS)
    track.program(DRUMS, int(rng.choice(kit)))
    track.control(DRUMS, 0, 7, rng.uniform(60, 120))
    steps = bar * 4
    kick, snare, hat = (str(rng.choice(part[kind]))[:steps] for part in (KICKS, SNARES, HATS))
    snare_key = int(rng.choice([38, 40, 37] if kind in ("soft", "reggae", "latin") else [38, 40, 38]))
    hat_key = int(rng.choice([42, 42, 44, 51, 53, 46] if kind != "metal" else [46, 51, 49, 42]))
    extras = [EXTRAS[i] for i in rng.choice(len(EXTRAS), int(rng.choice([0, 0, 1, 2, 3])), replace=False)]
    loud = rng.uniform(60, 112)
    each = int(rng.choice([4, 8]))
    entry = float(rng.choice([0, 0, 0, bar * 2, bar * 4]))

    def late(step: int) -> float:
        return swing if step % 4 == 2 else 0.0

    at, number = 0.0, 0
    while at < beats:
        fill = number % each == each - 1 and rng.random() < 0.85
        keep = max(2, steps - int(rng.choice([4, 8, steps]))) if fill else steps
        if at >= entry:
            lay(track, rng, kick[:keep], at, 36 if rng.random() < 0.9 else 35, loud, late)
            lay(track, rng, snare[:keep], at, snare_key, loud, late)
            lay(track, rng, hat[:keep], at, hat_key, loud * 0.7, late)
        for key, pattern in extras:
            lay(track, rng, pattern[:steps], at, key, loud * 0.65, late)
        if fill:
            toms = [50, 48, 47, 45, 43, 41]
            for step in range(keep, steps):
                if rng.random() < 0.8:
                    key = snare_key if rng.random() < 0.4 else toms[min(5, (step - keep) * 6 // max(1, steps - keep))]
                    track.note(DRUMS, at + step / 4 + rng.normal(0, 0.01), 0.15, key, loud * rng.uniform(0.7, 1.1))
        if number % each == 0 and at >= entry and rng.random() < 0.7:
            track.note(DRUMS, at, 1, int(rng.choice([49, 57, 55, 52])), loud)
        if rng.random() < 0.15:
            # one stroke moves for good, so that no two pieces keep the same bar
            place = int(rng.integers(0, steps))
            kick = kick[:place] + ("." if kick[place] == "x" else "x") + kick[place + 1 :] if kind != "dance" else kick
        at += bar
        number += 1
