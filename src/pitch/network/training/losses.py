"""What the networks are told."""

from __future__ import annotations

import torch
from torch import Tensor
from torch.nn import functional

from features import PITCH_BINS

LOWEST_MIDI = 33.0
BINS_PER_SEMITONE = 5
PITCH_SPREAD_BINS = 1.25
"""Standard deviation of the bump that stands for a pitch: 25 cents (Kim et al., ICASSP 2018, section 2.2)."""
WEIGHTS = (1.0, 0.6, 1.2)
"""Of voiced, sounding and onset."""


def pitch_loss(salience: Tensor, midi: Tensor) -> Tensor:
    """Cross-entropy against a bump around the true pitch, over the frames (batch, T) that have one in range."""
    centre = (midi - LOWEST_MIDI) * BINS_PER_SEMITONE
    sung = (midi > 0) & (centre > -1) & (centre < PITCH_BINS)
    away = torch.arange(PITCH_BINS, device=midi.device) - centre[sung][:, None]
    target = torch.exp(-0.5 * (away / PITCH_SPREAD_BINS) ** 2)
    target = target / target.sum(-1, keepdim=True)
    return -(target * functional.log_softmax(salience[sung].float(), -1)).sum(-1).mean()


def heads_loss(heads: Tensor, targets: Tensor, known: Tensor) -> Tensor:
    """Binary cross-entropy of voiced, sounding and onset (batch, frames, 3), where known."""
    each = functional.binary_cross_entropy_with_logits(heads.float(), targets, reduction="none") * known
    return (each.sum((0, 1)) / known.sum((0, 1)).clamp_min(1) * torch.tensor(WEIGHTS, device=heads.device)).sum()


def by_half_frames(heads: Tensor) -> Tensor:
    """(batch, T, 6) of the mix network → (batch, 2T, 3) on the grid of 10 ms."""
    batch, count, _ = heads.shape
    return heads.reshape(batch, count, 3, 2).transpose(2, 3).reshape(batch, 2 * count, 3)
