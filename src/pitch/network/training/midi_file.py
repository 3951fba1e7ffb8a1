"""Writes a Standard MIDI File, format 0 (MIDI 1.0 specification, "Standard MIDI Files 1.0"), from timed events."""

from __future__ import annotations

import struct
from dataclasses import dataclass, field

TICKS = 480
"""Ticks a quarter note."""


def variable_length(value: int) -> bytes:
    """A number in groups of seven bits, most significant first, the eighth bit set on all but the last."""
    out = [value & 0x7F]
    while value := value >> 7:
        out.append(0x80 | (value & 0x7F))
    return bytes(reversed(out))


@dataclass
class MidiTrack:
    """Events of all channels, by beat (quarter note); `messages` holds (tick, order, bytes)."""

    messages: list[tuple[int, int, bytes]] = field(default_factory=list)

    def add(self, beat: float, order: int, *message: int) -> None:
        """Adds raw bytes at a beat; at one tick, lower orders come first (ends before settings before starts)."""
        self.messages.append((max(0, round(beat * TICKS)), order, bytes(message)))

    def note(self, channel: int, beat: float, beats: float, key: int, velocity: float) -> None:
        """A note; keys and velocities outside 0–127 and 1–127 are brought inside."""
        key = min(127, max(0, int(key)))
        velocity = min(127, max(1, round(velocity)))
        beat = max(0.0, beat)
        self.add(beat, 2, 0x90 | channel, key, velocity)
        self.add(beat + max(beats, 0.02), 0, 0x80 | channel, key, 0)

    def program(self, channel: int, number: int, beat: float = 0) -> None:
        """Chooses an instrument, 0–127 (General MIDI)."""
        self.add(beat, 1, 0xC0 | channel, number)

    def control(self, channel: int, beat: float, number: int, value: float) -> None:
        """A controller, value 0–127."""
        self.add(beat, 1, 0xB0 | channel, number, min(127, max(0, round(value))))

    def bend(self, channel: int, beat: float, semitones: float) -> None:
        """Pitch bend within ±2 semitones, the range that General MIDI starts with."""
        value = min(16383, max(0, round(8192 + semitones / 2 * 8192)))
        self.add(beat, 1, 0xE0 | channel, value & 0x7F, value >> 7)

    def to_bytes(self, bpm: float) -> bytes:
        """The file, at one tempo."""
        body = bytearray(b"\x00\xff\x51\x03" + round(60e6 / bpm).to_bytes(3, "big"))
        now = 0
        for tick, _, message in sorted(self.messages, key=lambda event: event[:2]):
            body += variable_length(tick - now) + message
            now = tick
        body += b"\x00\xff\x2f\x00"
        head = b"MThd" + struct.pack(">IHHH", 6, 0, 1, TICKS)
        return head + b"MTrk" + struct.pack(">I", len(body)) + bytes(body)
