"""Tunes for the made singers: from a file of songs, or a random walk; and the songs' chords for the made bands.

A songs file is JSON, a song a line: `notes` as [MIDI or 0 for a rest, sixteenths], `chords` as [name, beats] (names
such as `Gb:maj7/3` or `N`), `bpm`, `tonic` (0–11), `mode`.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np

MAJOR = (0, 2, 4, 5, 7, 9, 11)
MINOR = (0, 2, 3, 5, 7, 8, 10)
LETTERS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
QUALITIES = {
    "maj7": (0, 4, 7, 11), "maj6": (0, 4, 7, 9), "maj9": (0, 4, 7, 11, 14), "maj(9)": (0, 4, 7, 14), "maj": (0, 4, 7),
    "minmaj7": (0, 3, 7, 11), "min7": (0, 3, 7, 10), "min9": (0, 3, 7, 10, 14), "min6": (0, 3, 7, 9), "min": (0, 3, 7),
    "sus2": (0, 2, 7), "sus4(b7": (0, 5, 7, 10), "sus4": (0, 5, 7), "hdim7": (0, 3, 6, 10), "dim7": (0, 3, 6, 9),
    "dim": (0, 3, 6), "aug": (0, 4, 8), "7": (0, 4, 7, 10), "9": (0, 4, 7, 10, 14),
}  # fmt: skip


@dataclass
class Chord:
    """A chord of a song: its notes as pitch classes above the root."""

    start: float
    """Beats."""
    beats: float
    root: int
    tones: tuple[int, ...]
    bass: int
    """Pitch class of the lowest note."""


@dataclass
class Written:
    """A note of a tune before anybody sings it."""

    start: float
    """Seconds."""
    seconds: float
    midi: int


def read_songs(path: Path) -> list[dict]:
    """The songs of a file."""
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]


def pitch_class(name: str) -> int:
    """The pitch class of a letter with accidentals, `Gb` → 6."""
    return (LETTERS[name[0]] + name.count("#") - name[1:].count("b")) % 12


def chord_of(name: str, start: float, beats: float) -> Chord | None:
    """Reads a chord's name; None for no chord. What follows a quality and isn't known is left out."""
    if ":" not in name or name[0] not in LETTERS:
        return None
    head, quality = name.split(":", 1)
    quality, _, over = quality.partition("/")
    root = pitch_class(head)
    known = next((key for key in sorted(QUALITIES, key=len, reverse=True) if quality.startswith(key)), "maj")
    steps = over.lstrip("b#").strip("\x01")
    bass = root
    if steps.isdigit() and 1 <= int(steps) <= 7:
        bass = root + MAJOR[int(steps) - 1] - over.count("b") + over.count("#")
    return Chord(start, beats, root, QUALITIES[known], bass % 12)


def chords_of(song: dict, beats: float, rng: np.random.Generator, shift: int) -> list[Chord]:
    """Chords for at least `beats` beats from a random place of the song, moved by shift semitones."""
    names = song["chords"]
    first = int(rng.integers(0, max(1, len(names) // 2)))
    out: list[Chord] = []
    at = 0.0
    index = first
    while at < beats:
        name, length = names[index % len(names)]
        length = float(length) or 1.0
        chord = chord_of(name, at, length)
        if chord:
            chord.root, chord.bass = (chord.root + shift) % 12, (chord.bass + shift) % 12
            out.append(chord)
        elif out:
            out[-1].beats += length
        at += length
        index += 1
        if index > first + 4 * len(names):
            break
    return out or [Chord(0, beats, shift % 12, (0, 4, 7), shift % 12)]


def song_tune(song: dict, seconds: float, rng: np.random.Generator) -> list[Written]:
    """A stretch of a song's tune at 0.7 to 1.4 times its speed; long rests are cut to at most two seconds.

    Rests of one sixteenth, mostly articulation, are given to the note before in half of the pieces.
    """
    sixteenth = 15 / song["bpm"] / float(np.exp(rng.uniform(np.log(0.7), np.log(1.4))))
    notes = song["notes"]
    joined = rng.random() < 0.5
    index = int(rng.integers(0, max(1, len(notes) - 40)))
    at = float(rng.uniform(0.05, 0.8))
    out: list[Written] = []
    turns = 0
    while at < seconds and turns < 4000:
        midi, length = notes[index % len(notes)]
        if midi == 0:
            if joined and length == 1 and out:
                out[-1].seconds += sixteenth
                at += sixteenth
            else:
                at += min(length * sixteenth, rng.uniform(0.3, 2.0) if out else 0.1)
        else:
            out.append(Written(at, length * sixteenth, int(midi)))
            at += length * sixteenth
        index += 1
        turns += 1
    return out


def walk_tune(seconds: float, rng: np.random.Generator) -> list[Written]:
    """A random walk on a scale (seldom chromatic), in short-note, long-note or mixed manner, with rests and leaps."""
    tonic = int(rng.integers(0, 12))
    scale = MAJOR if rng.random() < 0.5 else MINOR
    if rng.random() < 0.15:
        scale = tuple(range(12))
    keys = [60 + octave * 12 + tonic - 6 + step for octave in (-1, 0, 1) for step in scale]
    place = len(keys) // 2
    span = max(3, int(len(scale) * rng.uniform(0.5, 1.1)))
    middle = float(np.log(rng.uniform(0.16, 0.7)))
    spread = rng.uniform(0.25, 0.9)
    repeats = rng.uniform(0.05, 0.35)
    at = float(rng.uniform(0.05, 0.8))
    out: list[Written] = []
    while at < seconds:
        length = float(np.clip(np.exp(rng.normal(middle, spread)), 0.08, 4.0))
        if rng.random() >= repeats:
            step = int(rng.choice([1, 1, 1, 2, 2, 3, 4, 7]) * rng.choice([-1, 1]))
            if abs(place + step - len(keys) // 2) > span:
                step = -step
            place = int(np.clip(place + step, 0, len(keys) - 1))
        out.append(Written(at, length, keys[place]))
        at += length
        if rng.random() < 0.14:
            at += float(rng.uniform(0.1, 1.5))
    return out
