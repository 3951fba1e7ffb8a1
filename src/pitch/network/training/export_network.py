"""Writes trained weights as an ONNX file, which the program's engine reads.

    python3 export_network.py mix|solo WEIGHTS.npz FILE.onnx
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


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("kind", choices=("mix", "solo"))
    parser.add_argument("weights", type=Path)
    parser.add_argument("target", type=Path)
    args = parser.parse_args()
    network: torch.nn.Module
    if args.kind == "mix":
        network = MixNetwork()
        harmonics, fine = torch.zeros(1, len(STACK), COUNT, PITCH_BINS), torch.zeros(1, 2 * MEL_BANDS, COUNT)
        inputs = {"harmonics": harmonics, "fine": fine}
        axes = {"harmonics": {2: "frames"}, "fine": {2: "frames"}, "salience": {1: "frames"}, "heads": {1: "frames"}}
    else:
        network = SoloNetwork()
        inputs = {"frames": torch.zeros(1, SOLO_INPUTS, COUNT)}
        axes = {"frames": {2: "count"}, "heads": {1: "count"}}
    restore(network, args.weights)
    network.eval()
    torch.onnx.export(
        network,
        tuple(inputs.values()),
        str(args.target),
        opset_version=14,
        input_names=list(inputs),
        output_names=[name for name in axes if name not in inputs],
        dynamic_axes=axes,
    )


if __name__ == "__main__":
    main()
