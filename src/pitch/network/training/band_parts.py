"""What the pitched instruments of a made band play over chords: comping, arpeggios, pads, riffs, basses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from midi_file import MidiTrack
from tunes import Chord


@dataclass
class Layer:
    """One instrument: where it plays and how."""

    channel: int
    low: int
    """Lowest key of its voicings."""
    velocity: float
    pattern: str
    mask: list[int]
    """Steps (quarter beats) of the bar at which syncopated patterns strike."""
    swing: float
    length: float
    """Share of the time to the next stroke that a note lasts."""
    spread: float
    """Beats between the strings of a strum."""
    sections: list[bool]
    """Whether it plays, every four bars."""


def voicing(chord: Chord, low: int, count: int, rng: np.random.Generator) -> list[int]:
    """`count` keys of the chord from low upward, close position."""
    keys = [key for key in range(low, low + 30) if (key - chord.root) % 12 in {tone % 12 for tone in chord.tones}]
    skip = int(rng.integers(0, 2))
    return keys[skip : skip + count]


def strike(
    track: MidiTrack,
    rng: np.random.Generator,
    layer: Layer,
    at: float,
    beats: float,
    keys: list[int],
    gain: float = 1.0,
) -> None:
    """Plays keys together, or strummed from the low (seldom the high) string."""
    order = keys if rng.random() < 0.75 else keys[::-1]
    for index, key in enumerate(order):
        start = at + rng.normal(0, 0.008) + index * layer.spread
        track.note(layer.channel, start, beats * layer.length, key, layer.velocity * gain * rng.uniform(0.82, 1.1))


def steps_of(layer: Layer, chord: Chord, bar: int) -> list[float]:
    """The beats within a chord at which a syncopated pattern strikes, starting with the chord's own start."""
    out = [chord.start]
    step = np.ceil(chord.start * 4)
    while step / 4 < chord.start + chord.beats - 0.01:
        if int(step) % (bar * 4) in layer.mask and step / 4 > chord.start + 0.01:
            out.append(step / 4 + (layer.swing if int(step) % 4 == 2 else 0))
        step += 1
    return out


def add_chords(track: MidiTrack, rng: np.random.Generator, layer: Layer, chords: list[Chord], bar: int) -> None:
    """Comping of any pattern: pad, pulse, comp, stab, arpeggio, alberti, power, palm, tremolo, strum."""
    count = int(rng.integers(3, 6))
    order = rng.permutation(8)
    rate = float(rng.choice([0.25, 0.5, 0.5, 1 / 3]))
    pulse = {"pulse": float(rng.choice([0.5, 1.0])), "tremolo": 0.25}
    for chord in chords:
        if not layer.sections[int(chord.start // (4 * bar)) % len(layer.sections)]:
            continue
        keys = voicing(chord, layer.low, count, rng)
        end = chord.start + chord.beats
        if layer.pattern == "pad":
            strike(track, rng, layer, chord.start, chord.beats, keys)
        elif layer.pattern in ("arpeggio", "alberti"):
            at, index = chord.start, 0
            climb = keys + [key + 12 for key in keys[:2]]
            turn = [0, 2, 1, 2] if layer.pattern == "alberti" else list(order)
            while at < end - 0.05:
                key = climb[turn[index % len(turn)] % len(climb)]
                swing = layer.swing if index % 2 and rate == 0.5 else 0
                strike(track, rng, layer, at + swing, rate * rng.choice([1, 2, 4]), [key], 1 if index % 4 else 1.12)
                at, index = at + rate, index + 1
        elif layer.pattern in ("power", "palm"):
            low = layer.low + (chord.root - layer.low) % 12
            keys = [low, low + 7, low + 12][: int(rng.integers(2, 4))]
            eighths = list(np.arange(chord.start, end - 0.05, 0.5))
            times = steps_of(layer, chord, bar) if layer.pattern == "power" else eighths
            for index, at in enumerate(times):
                until = times[index + 1] if index + 1 < len(times) else end
                short = 0.35 if layer.pattern == "palm" and rng.random() < 0.85 else 1.0
                strike(track, rng, layer, at, (until - at) * short, keys, 0.75 if short < 1 else 1.0)
        else:
            if layer.pattern in pulse:
                times = list(np.arange(chord.start, end - 0.05, pulse[layer.pattern]))
            elif layer.pattern == "stab":
                times = [at + 0.5 for at in np.arange(np.ceil(chord.start), end - 0.4, 1.0)]
            else:
                times = steps_of(layer, chord, bar)
            for index, at in enumerate(times):
                until = times[index + 1] if index + 1 < len(times) else end
                length = 0.3 if layer.pattern == "stab" else until - at
                strike(track, rng, layer, at, length, keys, 1.1 if index == 0 else rng.uniform(0.75, 1.0))


def add_bass(track: MidiTrack, rng: np.random.Generator, layer: Layer, chords: list[Chord], bar: int) -> None:
    """A bass line: held roots, pulse, octaves, walking, syncopated, fifths; layer.pattern says which."""
    for index, chord in enumerate(chords):
        if not layer.sections[int(chord.start // (4 * bar)) % len(layer.sections)]:
            continue
        low = layer.low + (chord.bass - layer.low) % 12
        end = chord.start + chord.beats
        if layer.pattern == "held":
            times = [chord.start]
        elif layer.pattern in ("pulse", "octaves"):
            times = list(np.arange(chord.start, end - 0.05, 0.5))
        elif layer.pattern in ("walking", "fifths"):
            times = list(np.arange(chord.start, end - 0.05, 1.0))
        else:
            times = steps_of(layer, chord, bar)
        following = chords[index + 1].bass if index + 1 < len(chords) else chord.bass
        for number, at in enumerate(times):
            until = times[number + 1] if number + 1 < len(times) else end
            key = low
            if layer.pattern == "octaves" and number % 2:
                key = low + 12
            elif layer.pattern == "fifths" and number % 2:
                key = low + 7 if low < 40 else low - 5
            elif layer.pattern == "walking" and number:
                target = layer.low + (following - layer.low) % 12
                last = number == len(times) - 1
                key = target + int(rng.choice([-1, 1, -2, 2])) if last else low + int(rng.choice(chord.tones))
            elif layer.pattern == "syncopated" and number and rng.random() < 0.3:
                key = low + int(rng.choice([12, 7, -2, 10]))
            strike(track, rng, layer, at, until - at, [key], 1.0 if number == 0 else 0.9)


def add_riff(
    track: MidiTrack, rng: np.random.Generator, layer: Layer, chords: list[Chord], bar: int, scale: list[int]
) -> None:
    """A tune-like line that is not the singer's: a short figure repeated over the chords, or a wandering line.

    Chord tones on strong steps, scale steps between; bends, slides and modulation make it as alive as a voice, which is
    why the network has to hear many.
    """
    keys = [key for key in range(layer.low, layer.low + 22) if key % 12 in scale]
    layer.mask = rng.choice(bar * 4, int(rng.integers(2, 9)), replace=False).tolist()
    figure = rng.integers(-3, 4, 12)
    free = rng.random() < 0.5
    bends = rng.random() < 0.4
    modulation = rng.random() < 0.4
    place = len(keys) // 2
    for chord in chords:
        if not layer.sections[int(chord.start // (4 * bar)) % len(layer.sections)]:
            continue
        tones = {(chord.root + tone) % 12 for tone in chord.tones}
        times = steps_of(layer, chord, bar)
        for index, at in enumerate(times):
            until = times[index + 1] if index + 1 < len(times) else chord.start + chord.beats
            place += int(rng.integers(-3, 4)) if free else 0
            if not 2 < place < len(keys) - 3:
                place = len(keys) // 2
            near = int(np.clip(place + (0 if free else figure[index % 12]), 0, len(keys) - 1))
            key = keys[near]
            if index % 2 == 0:
                key = min((k for k in keys if k % 12 in tones), key=lambda k: abs(k - key), default=key)
            length = (until - at) * layer.length
            if bends and rng.random() < 0.35:
                for part in range(6):
                    track.bend(layer.channel, at + part * 0.04, -2 + 2 * part / 5 if rng.random() < 0.8 else 0)
            track.bend(layer.channel, at + 0.26, 0)
            if modulation and length > 0.8:
                track.control(layer.channel, at + 0.4, 1, rng.uniform(20, 90))
                track.control(layer.channel, at + length, 1, 0)
            strike(track, rng, layer, at, length, [key])
