"""The two networks. Sizes are set by the time they may take on one core: about 0.03 and 0.01 of real time."""

from __future__ import annotations

import torch
from torch import Tensor, nn
from torch.nn import functional

from features import DELTA_FRAMES, MEL_BANDS, PITCH_BINS, STACK

SOLO_INPUTS = MEL_BANDS + len(DELTA_FRAMES) + 2


class Around(nn.Module):
    """A residual block that looks `dilation` frames to both sides."""

    def __init__(self, width: int, dilation: int, drop: float = 0.0):
        super().__init__()
        self.look = nn.Conv1d(width, width, 3, padding=dilation, dilation=dilation)
        self.norm = nn.BatchNorm1d(width)
        self.drop = nn.Dropout(drop)
        self.out = nn.Conv1d(width, width, 1)

    def forward(self, x: Tensor) -> Tensor:
        return x + self.out(self.drop(functional.relu(self.norm(self.look(x)))))


class Spectral(nn.Module):
    """A convolution over (frames, bins), normalised; adds its input where it has as many channels.

    With a `step` of 2 only every other bin is kept.
    """

    def __init__(self, inputs: int, outputs: int, frames: int, bins: int, dilation: int = 1, step: int = 1):
        super().__init__()
        padding, stride = (frames // 2 * dilation, bins // 2), (1, step)
        self.look = nn.Conv2d(inputs, outputs, (frames, bins), stride, padding, (dilation, 1), bias=False)
        self.norm = nn.BatchNorm2d(outputs)
        self.keeps = inputs == outputs

    def forward(self, x: Tensor) -> Tensor:
        y = functional.relu(self.norm(self.look(x)))
        return x + y if self.keeps else y


class MixNetwork(nn.Module):
    """Where the singer's pitch lies in a mixture, whether they sing, and where their notes start.

    Convolutions over the harmonic stack (Bittner et al., ISMIR 2017, section 3) give a salience of each pitch. The
    first leaves every other bin, 40 cents apart, and each of those says at the end how salient two pitches are: a
    third of the work of convolutions over all the bins, with the same surroundings. On singers never heard raw pitch
    accuracy stayed at .951, overall accuracy went from .922 to .916.
    What they see, an octave wide and more, goes with the fine levels through a dilated convolution over 2.5 s, which
    knows who sang before and after: it says what sounds, and leans the salience.
    """

    CHANNELS = 16
    WIDTH = 128
    STEP = 2
    POOL = 2

    def __init__(self) -> None:
        super().__init__()
        c, w = self.CHANNELS, self.WIDTH
        self.spectral = nn.Sequential(
            Spectral(len(STACK), c, 5, 5, step=self.STEP),
            Spectral(c, c, 3, 5),
            Spectral(c, c, 3, 5, dilation=2),
            Spectral(c, c, 1, 31),
            Spectral(c, c, 3, 5, dilation=4),
            Spectral(c, c, 3, 3),
        )
        self.salience = nn.Conv2d(c, self.STEP, 1)
        self.shrink = nn.Conv1d(c * (PITCH_BINS // self.STEP // self.POOL), w, 1)
        self.fine = nn.Conv1d(2 * MEL_BANDS, w // 2, 3, padding=1)
        self.join = nn.Conv1d(w + w // 2, w, 1)
        self.around = nn.Sequential(*[Around(w, d) for d in (1, 2, 4, 8, 16, 32)])
        self.lean = nn.Conv1d(w, PITCH_BINS, 1)
        self.heads = nn.Conv1d(w, 6, 1)

    def look(self, harmonics: Tensor) -> tuple[Tensor, Tensor]:
        """(B, 8, T, 300) → salience (B, T, 300) before it is leaned, and what was seen, (B, 128, T)."""
        seen = self.spectral(harmonics)
        pooled = functional.max_pool2d(seen, (1, self.POOL))
        batch, channels, count, bins = pooled.shape
        columns = pooled.permute(0, 1, 3, 2).reshape(batch, channels * bins, count)
        salience = self.salience(seen).permute(0, 2, 3, 1).reshape(batch, count, PITCH_BINS)
        return salience, functional.relu(self.shrink(columns))

    def listen(self, seen: Tensor, fine: Tensor) -> tuple[Tensor, Tensor]:
        """(B, 128, T), (B, 80, T) → what leans the salience (B, T, 300), heads (B, T, 6)."""
        joined = torch.cat([seen, functional.relu(self.fine(fine))], 1)
        context = self.around(functional.relu(self.join(joined)))
        return self.lean(context).transpose(1, 2), self.heads(context).transpose(1, 2)

    def forward(self, harmonics: Tensor, fine: Tensor) -> tuple[Tensor, Tensor]:
        """(B, 8, T, 300), (B, 80, T) → salience (B, T, 300), heads (B, T, 6), all logits."""
        salience, seen = self.look(harmonics)
        lean, heads = self.listen(seen, fine)
        return salience + lean, heads


class SoloNetwork(nn.Module):
    """What sounds in the recording of one voice or instrument.

    Convolutions over the mel bands see how the spectrum changes, whatever the voice; with the pitch's course they
    go through dilated convolutions over 1.3 s.
    """

    WIDTH = 64
    SPECTRAL = (12, 16)

    def __init__(self) -> None:
        super().__init__()
        w, (c, d) = self.WIDTH, self.SPECTRAL
        self.spectral = nn.Sequential(
            Spectral(1, c, 5, 5), nn.MaxPool2d((1, 2)), Spectral(c, d, 5, 3), nn.MaxPool2d((1, 2)), nn.Dropout(0.1)
        )
        self.enter = nn.Conv1d(SOLO_INPUTS + d * (MEL_BANDS // 4), w, 5, padding=2)
        self.around = nn.Sequential(*[Around(w, d, drop=0.2) for d in (1, 2, 4, 8, 16, 32)])
        self.heads = nn.Conv1d(w, 3, 1)

    def forward(self, frames: Tensor) -> Tensor:
        """(B, 52, U) → heads (B, U, 3), logits."""
        seen = self.spectral(frames[:, None, :MEL_BANDS].transpose(2, 3))
        batch, channels, count, bins = seen.shape
        columns = seen.permute(0, 1, 3, 2).reshape(batch, channels * bins, count)
        together = functional.relu(self.enter(torch.cat([frames, columns], 1)))
        return self.heads(self.around(together)).transpose(1, 2)

