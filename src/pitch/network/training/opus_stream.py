"""Reads a mono Ogg Opus file with the system's libopus, where no program can be installed (RFC 7845, RFC 6716)."""

from __future__ import annotations

import ctypes
import ctypes.util
import os
from collections.abc import Iterator
from pathlib import Path

import numpy as np

LONGEST_PACKET = 1920
"""Samples of 120 ms at 16 kHz, the longest packet that the standard allows."""


def packets(data: bytes) -> Iterator[bytes]:
    """The packets of an Ogg file with one logical stream (RFC 3533, section 6)."""
    at, partial = 0, b""
    while data[at : at + 4] == b"OggS":
        lacing = data[at + 27 : at + 27 + data[at + 26]]
        at += 27 + len(lacing)
        for size in lacing:
            partial += data[at : at + size]
            at += size
            if size < 255:
                yield partial
                partial = b""


def read_opus(path: Path, rate: int = 16_000) -> np.ndarray:
    """16-bit samples at `rate`, kept beside the file for the next program that asks.

    LIBOPUS in the environment may name the library's file.
    """
    cache = path.with_suffix(f".{rate}.npy")
    if cache.exists():
        return np.load(cache)
    library = ctypes.CDLL(os.environ.get("LIBOPUS") or ctypes.util.find_library("opus") or "libopus.so.0")
    library.opus_decoder_create.restype = ctypes.c_void_p
    error = ctypes.c_int()
    decoder = ctypes.c_void_p(library.opus_decoder_create(rate, 1, ctypes.byref(error)))
    if error.value:
        raise RuntimeError(f"libopus: error {error.value}")
    stream = packets(path.read_bytes())
    skip = int.from_bytes(next(stream)[10:12], "little") * rate // 48_000
    next(stream)  # the comments
    block, parts = (ctypes.c_int16 * LONGEST_PACKET)(), []
    for packet in stream:
        count = library.opus_decode(decoder, packet, len(packet), block, LONGEST_PACKET, 0)
        parts.append(np.frombuffer(block, np.int16, count).copy())
    library.opus_decoder_destroy(decoder)
    samples = np.concatenate(parts)[skip:]
    np.save(cache, samples)
    return samples
