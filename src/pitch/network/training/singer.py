"""Who sings: traits drawn at random, so that no two pieces share a voice."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

VOWELS = np.array(
    [
        [270, 2290, 3010], [390, 1990, 2550], [530, 1840, 2480], [660, 1720, 2410], [730, 1090, 2440],
        [570, 840, 2410], [440, 1020, 2240], [300, 870, 2240], [640, 1190, 2390], [490, 1350, 1690],
    ]
)  # fmt: skip
"""First three formants in Hz of men's i ɪ ɛ æ ɑ ɔ ʊ u ʌ ɝ: Peterson & Barney 1952, JASA 24(2), table II, from
memory."""

VOICES = [
    # centre of the range (MIDI), formants over a man's, how often
    (45, 0.95, 0.8), (50, 1.0, 1.6), (55, 1.03, 2.2), (58, 1.1, 1.6), (62, 1.15, 2.2), (65, 1.17, 2.0), (70, 1.2, 1.2),
    (75, 1.22, 0.7), (67, 1.36, 0.7),
]  # fmt: skip
"""Bass, baritone, tenor, low and middle and high woman, soprano, high soprano, child: ranges are common practice;
women's formants lie about 1.17 and children's 1.35 times as high as men's (Peterson & Barney 1952, from memory)."""

ONSETS = ("none", "nasal", "glide", "stop", "fricative", "voiced fricative", "breath")


@dataclass
class Singer:
    """Traits of one singer in one piece."""

    kind: str
    """voice, hum or whistle."""
    centre: float
    """Middle of the range, MIDI."""
    size: float
    """Formants over a man's."""
    vowels: np.ndarray
    """Indices of the vowels used."""
    ring: float
    """How far formants 3–5 are drawn together (a trained voice's ring), 0…1."""
    slope: float
    """dB an octave."""
    breath: float
    sub: float
    vibrato_rate: float
    """Hz."""
    vibrato: float
    """Half extent in semitones."""
    vibrato_delay: float
    """Seconds."""
    vibrato_share: float
    """Share of long notes with it."""
    drift: float
    """Semitones, of the slow wander."""
    jitter: float
    """Semitones, of the fast unsteadiness."""
    shimmer: float
    untrue: float
    """Semitones, of the error of whole notes."""
    tuning: float
    """Semitones off concert pitch."""
    legato: float
    """Chance that a note follows the last without a consonant."""
    scoop: float
    """Chance of coming up from below."""
    fall: float
    """Chance that the last note of a phrase falls like speech."""
    glide: float
    """Seconds of a usual glide."""
    onsets: np.ndarray
    """Chance of each of ONSETS."""
    release: float
    """Seconds of a usual ending."""
    rubato: float
    """Seconds, wander of the time."""
    breaths: float
    """Amplitude of breaths between phrases."""
    swing: float
    """dB, variation of loudness between notes."""


def draw_singer(rng: np.random.Generator, kind: str) -> Singer:
    """Draws all traits; a hum has closed lips, a whistle no formants, a quarter of high voices are falsetto."""
    weights = np.array([row[2] for row in VOICES])
    centre, size, _ = VOICES[rng.choice(len(VOICES), p=weights / weights.sum())]
    centre, size = centre + rng.normal(0, 2), size * rng.uniform(0.92, 1.08)
    slope = rng.uniform(3.5, 11)
    breath = float(np.exp(rng.uniform(np.log(0.004), np.log(0.15))))
    if kind == "whistle":
        centre, slope, breath = rng.uniform(78, 90), rng.uniform(26, 45), float(np.exp(rng.uniform(-3.5, -1.2)))
    elif kind == "hum":
        slope = rng.uniform(7, 13)
        centre -= 3
    elif size < 1.06 and rng.random() < 0.2:
        centre, slope, breath = centre + 9, rng.uniform(10, 15), breath * 2
    weights = rng.dirichlet([1.2, 1.6, 1.0, 1.4, 1.2, 0.6, 0.5])
    if kind == "hum":
        weights = np.array([0.15, 0.75, 0, 0, 0, 0, 0.1])
    if kind == "whistle":
        weights = np.array([0.9, 0, 0, 0, 0, 0, 0.1])
    trained = rng.random()
    return Singer(
        kind=kind,
        centre=float(centre),
        size=float(size),
        vowels=rng.choice(len(VOWELS), rng.integers(2, 8), replace=False),
        ring=float(rng.random() * (trained > 0.6)),
        slope=float(slope),
        breath=min(breath, 0.3),
        sub=float(rng.uniform(0.05, 0.3)) if rng.random() < 0.12 and kind == "voice" else 0.0,
        vibrato_rate=float(rng.uniform(4.3, 7.2)),
        vibrato=float(rng.choice([0, 0.12, 0.3, 0.5, 0.9], p=[0.2, 0.2, 0.3, 0.2, 0.1]) * rng.uniform(0.7, 1.3)),
        vibrato_delay=float(rng.uniform(0.0, 0.5)),
        vibrato_share=float(rng.uniform(0.3, 1)),
        drift=float(rng.uniform(0.02, 0.2)),
        jitter=float(rng.uniform(0.005, 0.05)),
        shimmer=float(rng.uniform(0.01, 0.12)),
        untrue=float(rng.uniform(0.0, 0.22)),
        tuning=float(rng.uniform(-0.5, 0.5)) if rng.random() < 0.5 else float(rng.normal(0, 0.05)),
        legato=float(rng.choice([0.05, 0.2, 0.4, 0.75])),
        scoop=float(rng.choice([0.05, 0.2, 0.5])),
        fall=float(rng.choice([0.0, 0.15, 0.5])),
        glide=float(rng.uniform(0.03, 0.16)),
        onsets=weights,
        release=float(rng.uniform(0.02, 0.25)),
        rubato=float(rng.uniform(0.0, 0.05)),
        breaths=float(rng.uniform(0, 0.12)) if kind == "voice" else 0.0,
        swing=float(rng.uniform(0.5, 4.5)),
    )


def another_take(singer: Singer, rng: np.random.Generator) -> Singer:
    """The same singer a second time, a little different, for doubled voices."""
    return replace(
        singer,
        size=singer.size * rng.uniform(0.97, 1.03),
        slope=singer.slope + rng.normal(0, 0.8),
        vibrato_rate=singer.vibrato_rate * rng.uniform(0.93, 1.07),
        tuning=singer.tuning + rng.normal(0, 0.06),
    )
