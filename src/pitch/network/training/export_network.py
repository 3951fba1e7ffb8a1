"""Writes trained weights as ONNX files, which the program's engine reads.

    python3 export_network.py mix|solo WEIGHTS.npz FOLDER

The mix network becomes two files: `mix-look.onnx`, which takes nearly all the time and looks 10 frames around each, and
`mix-listen.onnx`, which looks 63 frames further. In one, a long recording's pieces would overlap by all 73.
"""

from __future__ import annotations

import argparse
from pathlib import Path

import torch

from features import MEL_BANDS, PITCH_BINS, STACK
from networks import SOLO_INPUTS, MixNetwork, SoloNetwork
from weights import restore

COUNT = 50
"""Frames of the inputs that the network is followed on; any number can be given later."""


class Part(torch.nn.Module):
    """One method of a network as a network."""

    def __init__(self, network: torch.nn.Module, method: str):
        super().__init__()
        self.network, self.method = network, method

    def forward(self, *inputs: torch.Tensor) -> tuple[torch.Tensor, ...] | torch.Tensor:
        return getattr(self.network, self.method)(*inputs)


def write(network: torch.nn.Module, method: str, target: Path, inputs: dict, outputs: dict[str, int]) -> None:
    """`inputs`: tensors by name, frames last but for a stack; `outputs`: which dimension counts frames."""
    frames = {name: {value.dim() - 2 if name == "harmonics" else value.dim() - 1: "frames"} for name, value in inputs.items()}
    torch.onnx.export(
        Part(network, method).eval(),
        tuple(inputs.values()),
        str(target),
        opset_version=14,
        input_names=list(inputs),
        output_names=list(outputs),
        dynamic_axes=frames | {name: {axis: "frames"} for name, axis in outputs.items()},
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("kind", choices=("mix", "solo"))
    parser.add_argument("weights", type=Path)
    parser.add_argument("folder", type=Path)
    args = parser.parse_args()
    if args.kind == "solo":
        solo = SoloNetwork()
        restore(solo, args.weights)
        inputs = {"frames": torch.zeros(1, SOLO_INPUTS, COUNT)}
        write(solo, "forward", args.folder / "solo.onnx", inputs, {"heads": 1})
        return
    mix = MixNetwork()
    restore(mix, args.weights)
    inputs = {"harmonics": torch.zeros(1, len(STACK), COUNT, PITCH_BINS)}
    write(mix, "look", args.folder / "mix-look.onnx", inputs, {"salience": 1, "seen": 2})
    inputs = {"seen": torch.zeros(1, MixNetwork.WIDTH, COUNT), "fine": torch.zeros(1, 2 * MEL_BANDS, COUNT)}
    write(mix, "listen", args.folder / "mix-listen.onnx", inputs, {"lean": 1, "heads": 1})


if __name__ == "__main__":
    main()
