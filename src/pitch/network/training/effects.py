"""What a studio does to a sound, drawn at random: equaliser, compressor, saturation, room, echo, noise.

All functions take and give mono samples at RATE and keep the direct sound where it was, so truth about times
stays true. Filters are zero-phase and made in the frequency domain over the whole piece, which is both short and fast.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from wave_file import RATE

BLOCK = 80
"""Samples (5 ms) over which the compressor measures the level."""


def loudness(samples: np.ndarray) -> float:
    """Level of the loud part: Σp²/Σp over the mean squares p of blocks of 512 samples, as an amplitude."""
    count = len(samples) // 512
    power = np.mean(samples[: count * 512].reshape(count, 512) ** 2, axis=1)
    total = power.sum()
    return float(np.sqrt((power**2).sum() / total)) if total > 0 else 0.0


def to_level(samples: np.ndarray, decibels: float) -> np.ndarray:
    """Scales the loud part to a level in dB to full scale; silence stays silence."""
    loud = loudness(samples)
    return samples * (10 ** (decibels / 20) / loud) if loud > 0 else samples


def shape(samples: np.ndarray, gain: Callable[[np.ndarray], np.ndarray]) -> np.ndarray:
    """Filters with gain(f in Hz) → amplitude, zero phase; half a second of padding stops it from wrapping round."""
    size = len(samples) + RATE // 2
    spectrum = np.fft.rfft(samples, size)
    frequencies = np.fft.rfftfreq(size, 1 / RATE)
    return np.fft.irfft(spectrum * gain(frequencies), size)[: len(samples)]


def equalise(samples: np.ndarray, rng: np.random.Generator, strength: float = 1.0) -> np.ndarray:
    """A random tilt about 1 kHz, a low and a high shelf, up to two bells, now and then a telephone-like cut."""
    tilt = rng.normal(0, 1.6) * strength
    low_gain, high_gain = rng.normal(0, 4.0, 2) * strength
    low_edge, high_edge = rng.uniform(90, 400), rng.uniform(2000, 6000)
    count = int(rng.integers(0, 3))
    bells = [(rng.uniform(150, 5500), rng.uniform(0.3, 1.2), rng.normal(0, 4.5) * strength) for _ in range(count)]
    low_cut = rng.uniform(150, 350) if rng.random() < 0.12 * strength else rng.uniform(20, 60)
    high_cut = rng.uniform(3000, 6500) if rng.random() < 0.18 * strength else 7800.0

    def gain(f: np.ndarray) -> np.ndarray:
        f = np.maximum(f, 10.0)
        decibels = np.clip(tilt * np.log2(f / 1000), -14, 14)
        decibels += low_gain / (1 + (f / low_edge) ** 2) + high_gain / (1 + (high_edge / f) ** 2)
        for centre, width, height in bells:
            decibels += height * np.exp(-0.5 * (np.log2(f / centre) / width) ** 2)
        cuts = 1 / np.sqrt(1 + (low_cut / f) ** 4) / np.sqrt(1 + (f / high_cut) ** 8)
        return 10 ** (decibels / 20) * cuts

    return shape(samples, gain)


def compress(samples: np.ndarray, below_loud: float, ratio: float, attack: float, release: float) -> np.ndarray:
    """A soft compressor: threshold below_loud dB under the loud part, attack and release in seconds, 6 dB knee."""
    count = -(-len(samples) // BLOCK)
    padded = np.pad(samples, (0, count * BLOCK - len(samples)))
    level = 10 * np.log10(np.mean(padded.reshape(count, BLOCK) ** 2, axis=1) + 1e-10)
    over = level - (20 * np.log10(loudness(samples) + 1e-9) - below_loud)
    over = np.where(over <= -3, 0, np.where(over >= 3, over, (over + 3) ** 2 / 12))
    wanted = over * (1 / ratio - 1)
    down, up = np.exp(-BLOCK / RATE / np.array([attack, release]))
    gain = np.empty(count)
    now = 0.0
    for index, value in enumerate(wanted.tolist()):
        keep = down if value < now else up
        now = keep * now + (1 - keep) * value
        gain[index] = now
    smooth = np.interp(np.arange(len(samples)), np.arange(count) * BLOCK + BLOCK / 2, gain)
    return samples * 10 ** (smooth / 20)


def saturate(samples: np.ndarray, drive: float) -> np.ndarray:
    """Bends the waveform with tanh, drive times its loud part, at twice the rate so that little folds back."""
    size = len(samples)
    spectrum = np.zeros(size + 1, dtype=complex)
    spectrum[: size // 2 + 1] = np.fft.rfft(samples)
    doubled = np.fft.irfft(spectrum, 2 * size) * 2
    bent = np.tanh(doubled * drive / (loudness(samples) + 1e-9)) / drive
    back = np.fft.rfft(bent)[: size // 2 + 1] / 2
    return np.fft.irfft(back, size) * loudness(samples)


def room(samples: np.ndarray, rng: np.random.Generator, seconds: float, wet: float) -> np.ndarray:
    """Adds a made room: noise that dies away by 60 dB in `seconds`, its treble sooner, after a short delay.

    wet is the amplitude of the room's sound over that of the direct one.
    """
    length = int(min(seconds * 1.2, 6.0) * RATE) + 1
    time = np.arange(length) / RATE
    noise = rng.standard_normal(length)
    dull = np.convolve(noise, np.ones(6) / 6, mode="same") * 2.0
    treble = rng.uniform(0.25, 0.8)
    tail = dull * np.exp(-6.91 * time / seconds) + 0.5 * noise * np.exp(-6.91 * time / (seconds * treble))
    delay = int(rng.uniform(0.002, 0.045) * RATE)
    tail = np.concatenate([np.zeros(delay), tail])
    tail *= wet / np.sqrt(np.sum(tail**2))
    size = 1 << (len(samples) + len(tail)).bit_length()
    added = np.fft.irfft(np.fft.rfft(samples, size) * np.fft.rfft(tail, size), size)
    return samples + added[: len(samples)]


def echo(samples: np.ndarray, seconds: float, feedback: float, wet: float) -> np.ndarray:
    """Adds repeats every `seconds`, each weaker by the factor feedback."""
    out = samples.copy()
    step, gain, times = int(seconds * RATE), wet, 1
    while gain > 0.02 and step * times < len(samples):
        out[step * times :] += gain * samples[: len(samples) - step * times]
        gain *= feedback
        times += 1
    return out


def old_record(samples: np.ndarray, rng: np.random.Generator, below: float) -> np.ndarray:
    """Adds hiss, mains hum and crackle, `below` dB under the loud part."""
    size = len(samples)
    scale = loudness(samples) * 10 ** (-below / 20)
    hiss = shape(rng.standard_normal(size), lambda f: 1 / np.sqrt(1 + (f / 2500) ** 2))
    crackle = np.zeros(size)
    clicks = rng.integers(0, size, max(1, int(rng.uniform(2, 15) * size / RATE)))
    crackle[clicks] = rng.laplace(0, 6, len(clicks))
    crackle = np.convolve(crackle, rng.standard_normal(12) * np.exp(-np.arange(12) / 3.0), mode="same")
    time = np.arange(size) / RATE
    mains = rng.choice([50.0, 60.0])
    hum = sum(rng.random() * np.sin(2 * np.pi * mains * k * time) for k in (1, 2, 3))
    return samples + scale * (hiss + 0.5 * crackle + rng.uniform(0, 0.8) * hum)


def studio(samples: np.ndarray, rng: np.random.Generator, distortion: float, dirt: float) -> np.ndarray:
    """A whole chain in studio order, each part at random; distortion and dirt are the chances of those two."""
    out = equalise(samples, rng) if rng.random() < 0.85 else samples
    if rng.random() < 0.65:
        strong = rng.random() < 0.35
        ratio = rng.uniform(5, 20) if strong else rng.uniform(1.5, 4)
        below = rng.uniform(8, 22) if strong else rng.uniform(2, 12)
        out = compress(out, below, ratio, rng.uniform(0.002, 0.03), rng.uniform(0.04, 0.4))
    if rng.random() < distortion:
        out = saturate(out, float(np.exp(rng.uniform(np.log(0.2), np.log(3.0)))))
    if rng.random() < 0.25:
        out = echo(out, rng.uniform(0.08, 0.5), rng.uniform(0.1, 0.55), rng.uniform(0.08, 0.4))
    if rng.random() < 0.7:
        out = room(out, rng, float(np.exp(rng.uniform(np.log(0.25), np.log(4.0)))), rng.uniform(0.05, 0.7))
    if rng.random() < dirt:
        out = old_record(out, rng, rng.uniform(25, 50))
    return out
