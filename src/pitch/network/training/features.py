"""The networks' inputs, computed with torch in batches.

The program computes the same numbers in TypeScript (`mel.ts`, `harmonic.ts`, `level.ts` beside this folder); a
test compares the two. All signals are mono at 16 kHz, in tensors whose last axis is time.
"""

from __future__ import annotations

import math

import torch
from torch import Tensor
from torch.nn import functional

RATE = 16_000
"""Hertz."""
FINE_HOP = 160
"""Samples between the frames of the fine levels: 10 ms."""
HOP = 320
"""Samples between the frames of the harmonic stack: 20 ms."""
MEL_BANDS = 40
STACK = (0.5, 1, 2, 3, 4, 5, 6, 8)
"""Harmonics that are laid over one another."""
BINS_PER_OCTAVE = 60
PITCH_BINS = 300
"""Bins of 20 cents from 55 Hz: five octaves."""
LOG_BINS = 491
"""Bins of 20 cents from 27.5 Hz to 8 kHz."""
STACK_OFFSETS = tuple(round(BINS_PER_OCTAVE * math.log2(h / 0.5)) for h in STACK)

LEVEL_BLOCK = 512
LOUD_POWER = 10 ** (-20 / 10)
"""The loud part of a signal is brought to −20 dB."""


def level_gain(signal: Tensor) -> Tensor:
    """Factor (batch, 1) that brings the power-weighted mean power of blocks of 32 ms to −20 dB."""
    count = signal.shape[-1] // LEVEL_BLOCK
    power = signal[..., : count * LEVEL_BLOCK].reshape(*signal.shape[:-1], count, LEVEL_BLOCK).square().mean(-1)
    total = power.sum(-1, keepdim=True)
    loud = power.square().sum(-1, keepdim=True) / total.clamp_min(1e-20)
    return torch.where(total > 0, (LOUD_POWER / loud.clamp_min(1e-20)).sqrt(), torch.ones_like(total))


def as_units(decibels: Tensor) -> Tensor:
    """Decibels −80…0 as 0…1, a little above allowed, silence 0."""
    return ((decibels + 80) / 80).clamp(0, 1.5)


def _frames(signal: Tensor, size: int, hop: int, count: int) -> Tensor:
    """(batch, count, size): frame i is centred at sample hop·i, zeros beyond the ends."""
    right = max(0, hop * (count - 1) + size // 2 - signal.shape[-1])
    padded = functional.pad(signal, (size // 2, right))
    return padded.unfold(-1, size, hop)[:, :count]


def _hann(size: int, like: Tensor) -> Tensor:
    return torch.hann_window(size, periodic=True, dtype=torch.float64).to(like)


def mel_weights() -> Tensor:
    """(40, 257): triangular bands, evenly spaced on the mel scale (O'Shaughnessy 1987) from 60 to 7600 Hz."""
    low, high = (2595 * math.log10(1 + hz / 700) for hz in (60, 7600))
    mel = low + (high - low) * torch.arange(MEL_BANDS + 2, dtype=torch.float64) / (MEL_BANDS + 1)
    edges = 700 * (10 ** (mel / 2595) - 1)
    hz = torch.arange(257, dtype=torch.float64) * RATE / 512
    rise = (hz - edges[:-2, None]) / (edges[1:-1] - edges[:-2])[:, None]
    fall = (edges[2:, None] - hz) / (edges[2:] - edges[1:-1])[:, None]
    return torch.minimum(rise, fall).clamp_min(0)


def fine_power(signal: Tensor, count: int) -> Tensor:
    """(batch, count, 257): two-sided power of frames of 32 ms every 10 ms."""
    window = _hann(512, signal)
    spectrum = torch.fft.rfft(_frames(signal, 512, FINE_HOP, count) * window)
    return (spectrum.real.square() + spectrum.imag.square()) * (2 / (512 * window.square().sum()))


def mel_levels(power: Tensor) -> Tensor:
    """(batch, count, 40) from the power of `fine_power`."""
    bands = power @ mel_weights().to(power).T
    return as_units(10 * torch.log10(bands + 1e-12))


def whole_level(power: Tensor) -> Tensor:
    """(batch, count): level of 30 Hz to 7.6 kHz from the power of `fine_power`."""
    return as_units(10 * torch.log10(power[..., 1:244].sum(-1) + 1e-12))


def log_weights() -> Tensor:
    """(491, 2049): bins of 20 cents as sums of the bins of a spectrum of 4096 samples."""
    step = RATE / 4096
    centre = 27.5 * 2 ** (torch.arange(-1, LOG_BINS + 1, dtype=torch.float64) / BINS_PER_OCTAVE) / step
    left = (centre[1:-1] - centre[:-2]).clamp_min(1)[:, None]
    right = (centre[2:] - centre[1:-1]).clamp_min(1)[:, None]
    away = torch.arange(2049, dtype=torch.float64) - centre[1:-1, None]
    weights = (1 - torch.where(away <= 0, -away / left, away / right)).clamp_min(0)
    return weights / weights.sum(1, keepdim=True)


def log_spectrum(signal: Tensor, count: int) -> Tensor:
    """(batch, count, 491): levels of bins of 20 cents, frames of 128 ms every 20 ms."""
    window = _hann(2048, signal)
    magnitude = torch.fft.rfft(_frames(signal, 2048, HOP, count) * window, n=4096).abs() * (2 / window.sum())
    return as_units(20 * torch.log10(magnitude @ log_weights().to(signal).T + 1e-6))


def harmonic_stack(spectrum: Tensor, shift: int = 0) -> Tensor:
    """(batch, 8, count, 300) from `log_spectrum`.

    With `shift` the music is moved up by that many bins, as playing a record faster would, length apart.
    """
    padded = functional.pad(spectrum, (PITCH_BINS, PITCH_BINS + 240))
    return torch.stack(
        [padded[..., PITCH_BINS + o - shift : 2 * PITCH_BINS + o - shift] for o in STACK_OFFSETS], dim=1
    )


def mix_inputs(signal: Tensor, shift: int = 0) -> tuple[Tensor, Tensor]:
    """`harmonics` (batch, 8, T, 300) and `fine` (batch, 80, T) of signals already at their level."""
    count = signal.shape[-1] // HOP + 1
    fine = mel_levels(fine_power(signal, 2 * count))
    fine = fine.reshape(fine.shape[0], count, 2 * MEL_BANDS).transpose(1, 2)
    return harmonic_stack(log_spectrum(signal, count), shift), fine


DELTA_FRAMES = (-16, -8, -4, -2, -1, 1, 2, 4, 8, 16)


def solo_frames(signal: Tensor, pitch: Tensor, strength: Tensor) -> Tensor:
    """(batch, 52, U) from signals at their level, pitch (batch, U; semitones) and periodicity (batch, U; 0..1)."""
    count = signal.shape[-1] // FINE_HOP + 1
    power = fine_power(signal, count)
    reach = max(DELTA_FRAMES)
    padded = functional.pad(pitch, (reach, reach), value=float("nan"))
    moved = torch.stack([padded[:, reach + d : reach + d + count] - pitch for d in DELTA_FRAMES], dim=1)
    moved = torch.nan_to_num((moved / 2).clamp(-1.5, 1.5), nan=0.0)
    return torch.cat(
        [mel_levels(power).transpose(1, 2), moved, strength[:, None], whole_level(power)[:, None]], dim=1
    )
