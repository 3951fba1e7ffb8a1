"""16-bit mono WAV files for the training material."""

from __future__ import annotations

import wave
from pathlib import Path

import numpy as np

RATE = 16000
"""Samples a second of everything the networks hear."""


def write_wave(path: Path, samples: np.ndarray) -> None:
    """Writes samples (−1…1, RATE, mono) as 16-bit PCM; louder ones are clipped, not wrapped.

    The file appears under its name when it is whole.
    """
    whole = np.round(np.clip(samples, -1.0, 1.0) * 32767.0).astype("<i2")
    part = path.with_suffix(".part")
    with wave.open(str(part), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes(whole.tobytes())
    part.replace(path)
