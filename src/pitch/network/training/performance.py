"""From a written tune to syllables: when each vowel starts and ends, and how it is begun and joined."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from singer import ONSETS, Singer
from tunes import Written

LEAD_SECONDS = {
    "none": (0.0, 0.0), "nasal": (0.04, 0.14), "glide": (0.04, 0.11), "stop": (0.035, 0.12), "fricative": (0.05, 0.17),
    "voiced fricative": (0.04, 0.12), "breath": (0.03, 0.1),
}  # fmt: skip
"""Lengths of consonants before the vowel, seconds: usual lengths in running speech and song, from memory."""


@dataclass
class Syllable:
    """One sung note."""

    on: float
    """Seconds, start of the vowel (middle of the glide where joined)."""
    off: float
    """Seconds, end of the vowel: where it has faded by half."""
    midi: float
    """Pitch meant, with the note's error and the singer's tuning."""
    onset: str
    """One of ONSETS, or joined."""
    lead: float
    """Seconds of the consonant before `on`."""
    attack: float
    """Seconds of the rise about `on`."""
    release: float
    """Seconds of the fall about `off`."""
    glide: float
    """Seconds over which the pitch moves from the note before."""
    scoop: float
    """Semitones from below."""
    fall: float
    """Semitones of a fall like speech at the end."""
    vowel: int
    gain: float
    """Amplitude."""
    vibrato: float
    """Half extent in semitones."""
    kind: int
    """Which of the consonants of this sort, a number that chooses its colour."""


def into_range(tune: list[Written], singer: Singer) -> list[Written]:
    """Moves a tune to the singer's range, and by octaves the notes that lie outside MIDI 38–84 (whistle 72–96)."""
    lowest, highest = (72, 96) if singer.kind == "whistle" else (38, 84)
    shift = round(singer.centre - float(np.median([note.midi for note in tune])))
    out = []
    for note in tune:
        midi = note.midi + shift
        while midi > highest:
            midi -= 12
        while midi < lowest:
            midi += 12
        out.append(replace(note, midi=midi))
    return out


def perform(tune: list[Written], singer: Singer, seconds: float, rng: np.random.Generator) -> list[Syllable]:
    """Sings a tune: times wander, consonants take their time from the note before, phrases end in rests.

    A repeated key always gets a consonant or a fresh start, since nothing else would tell its start.
    """
    out: list[Syllable] = []
    wander = 0.0
    for index, note in enumerate(into_range(tune, singer)):
        wander = 0.8 * wander + rng.normal(0, singer.rubato * 0.6)
        on = max(0.03, note.start + wander)
        off = on + note.seconds * rng.uniform(0.86, 1.0)
        if out and on < out[-1].on + 0.07:
            on = out[-1].on + 0.07
        gap = on - out[-1].off if out else 9.0
        onset = str(rng.choice(ONSETS, p=singer.onsets))
        midi = note.midi + singer.tuning + rng.normal(0, singer.untrue)
        same = bool(out) and note.midi == round(out[-1].midi - singer.tuning)
        if gap < 0.2 and out and rng.random() < singer.legato and not same:
            onset = "joined"
        elif same and gap < 0.06 and onset == "none":
            onset = "nasal" if singer.kind != "whistle" else "breath"
        shortest, longest = LEAD_SECONDS.get(onset, (0.0, 0.0))
        lead = rng.uniform(shortest, longest)
        if out:
            before = out[-1]
            lead = min(lead, 0.45 * (on - before.on))
            if onset == "joined":
                before.off = on
            else:
                pause = 0.012 if onset == "none" else 0.0
                close = gap < 0.1
                before.off = on - lead - pause if close else min(before.off, on - lead - pause)
                before.off = max(before.off, before.on + 0.03)
                room = max(0.0, on - lead - before.off)
                before.release = float(np.clip(before.release, 0.012, 0.03 + room * 1.2))
        long = off - on > 0.25
        attack = float(rng.uniform(0.008, 0.03) if rng.random() < 0.7 else rng.uniform(0.03, 0.08))
        vowel = out[-1].vowel if onset == "joined" and rng.random() < 0.7 else int(rng.choice(singer.vowels))
        out.append(
            Syllable(
                on=on,
                off=max(off, on + 0.06),
                midi=float(midi),
                onset=onset,
                lead=lead,
                attack=min(attack, (off - on) * 0.4),
                release=min(singer.release * rng.uniform(0.5, 1.8), (off - on) * 0.7),
                glide=float(np.clip(singer.glide * rng.uniform(0.5, 1.8), 0.02, 0.6 * note.seconds)),
                scoop=float(rng.uniform(0.4, 3.0)) if onset != "joined" and rng.random() < singer.scoop else 0.0,
                fall=0.0,
                vowel=vowel,
                gain=float(10 ** (rng.normal(0, singer.swing) / 20)),
                vibrato=singer.vibrato * (0.6 + 0.6 * rng.random()) * (long and rng.random() < singer.vibrato_share),
                kind=int(rng.integers(0, 1000)),
            )
        )
        if index and on - out[-2].off > 0.25 and rng.random() < singer.fall:
            out[-2].fall = float(rng.uniform(1, 7))
    out = [one for one in out if one.off < seconds - 0.05]
    if out and rng.random() < singer.fall:
        out[-1].fall = float(rng.uniform(1, 7))
    return out


def loosen(syllables: list[Syllable], rng: np.random.Generator, seconds: float, by: float) -> list[Syllable]:
    """A second take: all times bent by a smooth wander of about `by` seconds, pitches and loudness by a little."""
    knots = np.arange(0, seconds + 1, 0.5)
    bend = rng.normal(0, by, len(knots))

    def moved(time: float) -> float:
        return max(0.01, time + float(np.interp(time, knots, bend)))

    return [
        replace(
            one,
            on=moved(one.on),
            off=moved(one.off),
            midi=one.midi + rng.normal(0, 0.07),
            gain=one.gain * float(10 ** (rng.normal(0, 1.5) / 20)),
            scoop=one.scoop * rng.uniform(0, 1.5),
        )
        for one in syllables
    ]
