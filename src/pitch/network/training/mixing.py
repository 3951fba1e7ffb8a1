"""Songs that never were: a voice over a band at a random level, through random rooms, equalisers and coders."""

from __future__ import annotations

import random
from dataclasses import dataclass

import torch
from torch import Tensor

from features import RATE, level_gain
from material import Clip, Material, gather, held_out

VOICES = {"mir-voice": 0.55, "ssvd": 0.2, "made-voice": 0.25}
"""Share of each kind: real voices are the larger part."""
BANDS = {"mir-band": 0.45, "made-band": 0.55}
OWN_BAND = 0.25
"""Share of karaoke voices that keep their own band, which alone plays in their key and time."""
ALONE, ABSENT = 0.15, 0.05
"""Share of crops without a band, and without a voice."""
LEVELS_DB = (-9.0, 13.0)
"""Voice over band."""


@dataclass(frozen=True)
class Batch:
    signal: Tensor
    """(batch, samples), at its level."""
    frames: Tensor
    """(batch, label frames) into the labels of the material, −1 where no voice sings."""


def chance(share: float, batch: int, like: Tensor) -> Tensor:
    """(batch, 1): 1 for about that share, else 0."""
    return (torch.rand(batch, 1, device=like.device) < share).float()


def between(low: float, high: float, batch: int, like: Tensor) -> Tensor:
    """(batch, 1): numbers drawn evenly from low to high."""
    return low + (high - low) * torch.rand(batch, 1, device=like.device)


def coloured(signal: Tensor, share: float, spread_db: float, low_pass: float) -> Tensor:
    """Random smooth equalisers: a curve through random gains an octave or so apart, and sometimes no treble at all."""
    batch, samples = signal.shape
    spectrum = torch.fft.rfft(signal)
    hz = torch.fft.rfftfreq(samples, 1 / RATE, device=signal.device)
    octave = (hz.clamp_min(30) / 30).log2() / 8.06 * 7
    knots = torch.randn(batch, 9, device=signal.device) * spread_db * chance(share, batch, signal)
    low = octave.floor().long().clamp(0, 7)
    curve = knots[:, low] + (knots[:, low + 1] - knots[:, low]) * (octave - low)
    dull, edge = chance(low_pass, batch, signal), between(3500, 7500, batch, signal)
    cutoff = torch.where(dull > 0, edge, torch.full_like(edge, 2e4))
    gain = 10 ** (curve / 20) / (1 + (hz / cutoff) ** 16).sqrt()
    return torch.fft.irfft(spectrum * gain, n=samples)


def in_rooms(signal: Tensor, share: float) -> Tensor:
    """Some of the signals with a room: noise that dies away in 0.15 to 1.2 s (60 dB), 6 to 22 dB softer."""
    batch, samples = signal.shape
    time = torch.arange(int(0.8 * RATE), device=signal.device) / RATE
    decay = torch.exp(-6.9 * time / between(0.15, 1.2, batch, signal))
    response = torch.randn(batch, len(time), device=signal.device) * decay * (time > 0.004)
    response = response / response.square().sum(-1, keepdim=True).sqrt()
    size = samples + len(time)
    wet = torch.fft.irfft(torch.fft.rfft(signal, n=size) * torch.fft.rfft(response, n=size), n=size)[:, :samples]
    return signal + wet * 10 ** (-between(6, 22, batch, signal) / 20) * chance(share, batch, signal)


def squeezed(signal: Tensor, share: float) -> Tensor:
    """Some of the signals, which are at their level, driven into a soft limit as loud records are."""
    drive = between(1, 6, signal.shape[0], signal)
    limited = torch.tanh(signal * drive) / drive
    limited = limited * level_gain(limited)
    return torch.where(chance(share, signal.shape[0], signal) > 0, limited, signal)


def draw(weights: dict[str, float], clips: dict[str, list[Clip]], random_: random.Random) -> Clip:
    """A clip of a kind drawn by weight, of those kinds that are there."""
    kinds = [kind for kind in weights if clips.get(kind)]
    kind = random_.choices(kinds, [weights[k] for k in kinds])[0]
    return random_.choice(clips[kind])


def start_in(clip: Clip, samples: int, random_: random.Random) -> int:
    """A first sample on the frame grid, so that at least three quarters of the crop lie in the clip where it can."""
    return 320 * random_.randrange(max(1, (clip.length - samples * 3 // 4) // 320))


def mixed(material: Material, batch: int, samples: int, random_: random.Random) -> Batch:
    """A batch of crops, from singers that are not held out."""
    clips: dict[str, list[Clip]] = {}
    for clip in material.clips:
        if not held_out(clip):
            clips.setdefault(clip.kind, []).append(clip)
    own = {clip.name: clip for clip in clips.get("mir-band", [])}
    voices = [draw(VOICES, clips, random_) for _ in range(batch)]
    starts = [start_in(clip, samples, random_) for clip in voices]
    bands, band_starts = [], []
    for voice, start in zip(voices, starts):
        keeps = voice.kind == "mir-voice" and random_.random() < OWN_BAND
        band = own[voice.name] if keeps else draw(BANDS, clips, random_)
        bands.append(band)
        band_starts.append(start if keeps else start_in(band, samples, random_))
    voice, frames = gather(material, voices, starts, samples)
    band, _ = gather(material, bands, band_starts, samples)

    voice = in_rooms(coloured(voice, 0.7, 4, 0.1), 0.4)
    voice = squeezed(voice * level_gain(voice), 0.3)
    band = in_rooms(coloured(band, 0.8, 5, 0), 0.15)
    band = band * level_gain(band)
    fate = torch.rand(batch, 1, device=voice.device)
    absent = fate < ABSENT
    gain = 10 ** (-between(*LEVELS_DB, batch, voice) / 20) * ((fate < ABSENT) | (fate > ABSENT + ALONE))
    signal = voice * ~absent + band * gain
    signal = coloured(signal, 0.3, 3, 0.25)
    signal = squeezed(signal * level_gain(signal), 0.3)
    noise = 10 ** (between(-75, -35, batch, signal) / 20) * chance(0.4, batch, signal)
    signal = signal + noise * torch.randn_like(signal)
    signal = signal * level_gain(signal) * 10 ** (between(-8, 3, batch, signal) / 20)
    return Batch(signal, torch.where(absent, -1, frames))
