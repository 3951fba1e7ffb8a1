"""The sound of a made voice: harmonics shaped by moving formants, and noise shaped by the same or by consonants.

Additive synthesis (a sum of harmonics whose amplitudes are those of a source with a slope in dB an octave, seen
through a cascade of resonators as in Fant 1960 and Klatt 1980, JASA 67(3)): the pitch is then exactly the one asked
for, which is what truth for training needs. Controls come every 5 ms; all is blocks of numpy.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from wave_file import RATE

HOP = 80
"""Samples between two controls: 5 ms."""
CONTROL_RATE = RATE // HOP
HIGHEST = 7700.0
"""Hz above which no harmonic is made."""


@dataclass
class Controls:
    """Everything about a take, a row (or number) a control; control c stands at sample c·HOP."""

    midi: np.ndarray
    """Sounding pitch."""
    level: np.ndarray
    """Amplitude of the voiced part, about 0…1."""
    formants: np.ndarray
    """[controls, 5] Hz."""
    widths: np.ndarray
    """[controls, 5] Hz, the formants' bandwidths."""
    slope: np.ndarray
    """Fall of the source in dB an octave, radiation included."""
    breath: np.ndarray
    """Amplitude of noise that goes through the formants."""
    hiss: np.ndarray
    """Amplitude of a consonant's noise."""
    hiss_centre: np.ndarray
    """Hz, middle of a consonant's noise."""
    hiss_width: np.ndarray
    """Hz, half width of a consonant's noise."""


def resonance(f: np.ndarray, formants: np.ndarray, widths: np.ndarray) -> np.ndarray:
    """Gain of the cascade at f[controls, n] Hz."""
    out = np.ones_like(f)
    square = f * f
    for index in range(formants.shape[1]):
        centre = formants[:, index, None] ** 2
        out *= centre / np.sqrt((centre - square) ** 2 + square * widths[:, index, None] ** 2)
    return out


def between(rows: np.ndarray) -> np.ndarray:
    """Straight lines between controls: [c + 1] → [c·HOP] samples."""
    ramp = np.arange(HOP) / HOP
    return (rows[:-1, None] + np.diff(rows)[:, None] * ramp).ravel()


def voiced_part(controls: Controls, sub: float) -> np.ndarray:
    """The sum of harmonics, by the recurrence sin(kφ) = 2·cos φ·sin((k−1)φ) − sin((k−2)φ).

    Loudness is evened out by half between vowels and heights (a singer does so too). sub adds every second period's
    weakness (a subharmonic), for rough voices.
    """
    f0 = 440 * 2 ** ((controls.midi - 69) / 12)
    count = max(1, int(HIGHEST / f0.min()))
    numbers = np.arange(1, count + 1)
    f = f0[:, None] * numbers
    amplitudes = resonance(f, controls.formants, controls.widths)
    amplitudes *= numbers ** (-controls.slope[:, None] / 6.02)
    amplitudes *= np.clip((HIGHEST - f) / 300, 0, 1)
    strength = np.sqrt(0.5 * np.sum(amplitudes**2, axis=1)) + 1e-9
    amplitudes *= (controls.level * strength**-0.75)[:, None]
    phase = 2 * np.pi * np.cumsum(between(f0)) / RATE
    out = np.zeros(len(phase))
    step = CONTROL_RATE
    for start in range(0, len(f0) - 1, step):
        stop = min(start + step, len(f0) - 1)
        block = slice(start * HOP, stop * HOP)
        part = amplitudes[start : stop + 1]
        top = int(np.max(np.nonzero(part.max(axis=0) > 1e-6)[0], initial=-1)) + 1
        twice = 2 * np.cos(phase[block])
        before, now = np.zeros(len(twice)), np.sin(phase[block])
        total = np.zeros(len(twice))
        for k in range(top):
            total += between(part[:, k]) * now
            before, now = now, twice * now - before
        if sub > 0:
            total *= 1 + sub * np.cos(phase[block] / 2)
        out[block] = total
    return out


def noise_part(controls: Controls, rng: np.random.Generator) -> np.ndarray:
    """Noise with a spectrum that changes every 5 ms: random spectra of 15 ms, windowed and overlapped by three."""
    size = 3 * HOP
    f = np.fft.rfftfreq(size, 1 / RATE)
    count = len(controls.midi) - 1
    through = resonance(np.broadcast_to(f, (count, len(f))).copy(), controls.formants[:-1], controls.widths[:-1] * 1.5)
    through *= (np.maximum(f, 200) / 1000) ** 0.5
    through /= np.sqrt(np.mean(through**2, axis=1, keepdims=True)) ** 0.9 + 1e-9
    bell = np.exp(-0.5 * ((f - controls.hiss_centre[:-1, None]) / controls.hiss_width[:-1, None]) ** 2)
    shapes = controls.breath[:-1, None] * through + controls.hiss[:-1, None] * bell * 1.6
    random = rng.standard_normal((count, len(f))) + 1j * rng.standard_normal((count, len(f)))
    frames = np.fft.irfft(random * shapes, size, axis=1) * np.sqrt(size / 2)
    frames *= 0.5 - 0.5 * np.cos(2 * np.pi * (np.arange(size) + 0.5) / size)
    out = np.zeros((count + 2, HOP))
    for third in range(3):
        out[third : third + count] += frames[:, third * HOP : (third + 1) * HOP]
    return out.ravel()[HOP : HOP + count * HOP] * 0.6


def sing(controls: Controls, rng: np.random.Generator, sub: float) -> np.ndarray:
    """The samples of a take, (controls − 1)·HOP of them."""
    return voiced_part(controls, sub) + noise_part(controls, rng)
