"""Weights between networks and files, and the running mean of a network in training."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import torch
from torch import nn


def save(network: nn.Module, path: Path) -> None:
    """Writes all weights and running statistics as a compressed .npz by their names."""
    np.savez_compressed(path, **{k: v.detach().float().cpu().numpy() for k, v in network.state_dict().items()})


def restore(network: nn.Module, path: Path) -> None:
    """Reads what `save` wrote; names and shapes must be those of the network."""
    network.load_state_dict({k: torch.from_numpy(v) for k, v in np.load(path).items()})


@torch.no_grad()
def blend(mean: nn.Module, network: nn.Module, keep: float) -> None:
    """Moves the running mean towards the network: `keep` of the old, the rest of the new (Polyak & Juditsky 1992)."""
    for old, new in zip(mean.state_dict().values(), network.state_dict().values()):
        if old.dtype.is_floating_point:
            old.lerp_(new, 1 - keep)
        else:
            old.copy_(new)
