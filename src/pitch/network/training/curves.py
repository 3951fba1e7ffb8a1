"""From syllables to the voice's controls: pitch, loudness, formants and noise, every 5 ms."""

from __future__ import annotations

import numpy as np

from performance import Syllable
from singer import VOWELS, Singer
from voice_sound import CONTROL_RATE, Controls

NASALS = np.array([[250, 1100, 2200], [280, 1600, 2600], [300, 2000, 2800]], dtype=float)
"""Formants of m n ŋ in Hz, round figures after Fant 1960, from memory."""
GLIDES = np.array([[300, 610, 2200], [280, 2200, 3000], [360, 1300, 2700], [310, 1060, 1380]], dtype=float)
"""Formants of w j l r in Hz, round figures after Klatt 1980 (JASA 67(3)), from memory."""
HISSES = np.array([[6200, 1300], [3400, 900], [5000, 3500], [2500, 2500]], dtype=float)
"""Middle and half width of the noise of s ʃ f h-like consonants in Hz: round figures, from memory."""


def ramp(time: np.ndarray, middle: float, width: float) -> np.ndarray:
    """0 before, 1 after, a raised cosine of that width (seconds) between; one half at middle."""
    along = np.clip((time - middle) / max(width, 0.006) + 0.5, 0, 1)
    return 0.5 - 0.5 * np.cos(np.pi * along)


def smooth(values: np.ndarray, count: int) -> np.ndarray:
    """Moving mean over count controls along the first axis, twice, ends held."""
    kernel = np.convolve(np.ones(count) / count, np.ones(count) / count)
    half = len(kernel) // 2
    padded = np.concatenate([np.repeat(values[:1], half, 0), values, np.repeat(values[-1:], half, 0)])
    if values.ndim == 1:
        return np.convolve(padded, kernel, mode="valid")
    return np.stack([np.convolve(column, kernel, mode="valid") for column in padded.T], axis=1)


def wander(rng: np.random.Generator, count: int, seconds: float) -> np.ndarray:
    """Slow noise of unit deviation that changes about every `seconds`."""
    knots = int(count / CONTROL_RATE / seconds) + 4
    places = np.arange(count) / CONTROL_RATE / seconds
    return smooth(np.interp(places, np.arange(knots), rng.standard_normal(knots)), 9) * 1.2


def pitch_curve(syllables: list[Syllable], singer: Singer, count: int, rng: np.random.Generator) -> np.ndarray:
    """MIDI a control: steps from note to note as glides, scoops, vibrato, falls, drift and jitter on top."""
    time = np.arange(count) / CONTROL_RATE
    midi = np.full(count, syllables[0].midi)
    ornament = np.zeros(count)
    for index, one in enumerate(syllables):
        begin = one.on - one.lead
        if index:
            before = syllables[index - 1]
            apart = begin - before.off > 0.15
            middle = begin - 0.05 if apart else (one.on if one.onset == "joined" else one.on - 0.35 * one.lead)
            midi += (one.midi - before.midi) * ramp(time, middle, 0.03 if apart else one.glide)
        first, last = (int(at * CONTROL_RATE) for at in (begin, one.off + one.release))
        span = slice(max(first, 0), min(last + 1, count))
        inside = time[span]
        if one.scoop:
            # from below, and nearly there after a tenth of a second
            ornament[span] -= one.scoop * np.exp(-np.maximum(inside - begin, 0) / 0.045)
        if one.vibrato:
            depth = one.vibrato * ramp(inside, one.on + singer.vibrato_delay + 0.15, 0.3)
            rate = singer.vibrato_rate * (1 + 0.04 * rng.standard_normal())
            ornament[span] += depth * np.sin(2 * np.pi * (rate * (inside - one.on) + rng.random()))
        if one.fall:
            length = min(0.3, 0.5 * (one.off - one.on))
            ornament[span] -= one.fall * np.clip((inside - one.off + length) / length, 0, 1.3) ** 2
    midi += smooth(ornament, 3) + singer.drift * wander(rng, count, 0.35)
    return midi + singer.jitter * smooth(rng.standard_normal(count), 3) * 1.7


def level_curve(syllables: list[Syllable], singer: Singer, count: int, rng: np.random.Generator) -> np.ndarray:
    """Amplitude a control, about 0…1: half of the rise at `on`, half of the fall at `off`, shimmer and swells."""
    time = np.arange(count) / CONTROL_RATE
    level = np.zeros(count)
    for index, one in enumerate(syllables):
        following = syllables[index + 1] if index + 1 < len(syllables) else None
        joined = one.onset == "joined"
        next_joined = bool(following) and following.onset == "joined"
        rise = ramp(time, one.on, one.glide * 0.6 if joined else one.attack)
        fall = 1 - ramp(time, one.off, following.glide * 0.6 if following and next_joined else one.release)
        swell = 1 + 0.3 * np.sin(np.pi * np.clip((time - one.on) / (one.off - one.on), 0, 1)) * (one.kind % 3 - 1)
        level += one.gain * rise * fall * swell
        soft = {"nasal": 0.35, "glide": 0.5, "voiced fricative": 0.15}.get(one.onset, 0.0)
        if soft:
            soft *= 0.6 + 0.8 * (one.kind % 7) / 6
            level += one.gain * soft * ramp(time, one.on - one.lead, 0.025) * (1 - ramp(time, one.on, one.attack))
    tremble = 1 + singer.shimmer * (smooth(rng.standard_normal(count), 2) + 0.7 * wander(rng, count, 0.2))
    return level * np.clip(tremble, 0.3, 2)


def controls_of(syllables: list[Syllable], singer: Singer, seconds: float, rng: np.random.Generator) -> Controls:
    """All controls of a take of `seconds`, with one control more than its 5 ms steps."""
    count = round(seconds * CONTROL_RATE) + 1
    midi = pitch_curve(syllables, singer, count, rng)
    level = level_curve(syllables, singer, count, rng)
    three = np.tile(VOWELS[syllables[0].vowel] * singer.size, (count, 1))
    dull, hiss = np.zeros(count), np.zeros(count)
    centre, width = np.full(count, 4000.0), np.full(count, 1500.0)
    breath = singer.breath * (level + 0.3 * smooth(level, 12))
    for index, one in enumerate(syllables):
        begin, on, off = (round(at * CONTROL_RATE) for at in (one.on - one.lead, one.on, one.off))
        begin = max(begin, 0)
        lead = slice(begin, on)
        three[begin:] = VOWELS[one.vowel] * singer.size
        if one.onset == "nasal":
            three[lead] = NASALS[one.kind % 3] * singer.size
            dull[lead] = 9
        elif one.onset == "glide":
            three[lead] = GLIDES[one.kind % 4] * singer.size
            dull[lead] = 3
        elif one.onset == "breath":
            breath[lead] += 0.12 * one.gain
        elif one.onset in ("fricative", "voiced fricative"):
            strength = (0.1, 0.1, 0.04, 0.04)[one.kind % 4] * (1 if one.onset == "fricative" else 0.5)
            hiss[lead] += strength * one.gain * (0.5 + 1.5 * (one.kind % 11) / 10)
            centre[lead], width[lead] = HISSES[one.kind % 4]
        elif one.onset == "stop":
            burst = slice(max(begin, on - 2 - one.kind % 5), on)
            hiss[burst] += 0.2 * one.gain * (0.3 + (one.kind % 11) / 10)
            centre[burst], width[burst] = HISSES[(one.kind // 4) % 4] * (0.4 + 0.2 * (one.kind % 4))
        if index and begin / CONTROL_RATE - syllables[index - 1].off > 0.35 and singer.breaths:
            air = slice(max(0, begin - 70), max(0, begin - 10))
            breath[air] += singer.breaths * np.hanning(air.stop - air.start)
    f0 = 440 * 2 ** ((midi - 69) / 12)
    three, dull = smooth(three, 6), smooth(dull, 3)
    if singer.kind == "hum":
        three, dull = np.tile(NASALS[0] * singer.size, (count, 1)), np.full(count, 4.0)
    top = np.array([3500.0, 4500.0]) * singer.size
    formants = np.concatenate([three, np.tile(top, (count, 1))], axis=1)
    middle = 2900 * singer.size**0.5
    formants[:, 2:] += singer.ring * 0.55 * (middle + np.array([-250, 0, 350]) - formants[:, 2:])
    # a high voice opens the mouth so that its first formant does not fall under the pitch
    formants[:, 0] = np.maximum(formants[:, 0], f0 * 1.02)
    formants[:, 1] = np.maximum(formants[:, 1], formants[:, 0] * 1.2)
    widths = np.tile([70.0, 90.0, 120.0, 160.0, 220.0], (count, 1)) * (1 + 0.04 * dull[:, None])
    if singer.kind == "whistle":
        formants = np.stack([f0, f0 * 1.001, f0 * 3, f0 * 4, f0 * 5], axis=1)
        widths = np.tile([250.0, 350.0, 900.0, 900.0, 900.0], (count, 1))
    slope = singer.slope + dull + 3 * (1 - np.clip(level, 0, 1.3))
    return Controls(midi, level, formants, widths, slope, breath, smooth(hiss, 2), centre, width)
