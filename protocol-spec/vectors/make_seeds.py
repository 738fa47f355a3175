#!/usr/bin/env python3
"""Writes the seeds of the fuzz tests from the golden vectors, those made by hand included. Standard library only.

    make_seeds.py [--out DIR]   DIR: the resources of the tests (default: those of this module)

Vectors whose names begin with the same word become one seed, cut into several where it grows longer than the fuzzer
likes. A seed of GATT holds values, each after its length as a little-endian u16.
"""

import argparse
import json
import pathlib
import shutil

HERE = pathlib.Path(__file__).resolve().parent
PACKAGE = "io/heldmark/protocol"
TARGETS = {"bytes": "ByteStreamFuzzTest", "text": "TextFuzzTest", "gatt": "GattFuzzTest"}
METHOD = "shouldSurviveAnything"
LONGEST = 1000


def pieces(binding):
    """Yields the first word of each vector's name and its bytes in the form of a seed."""
    for name in (binding + ".json", "hand-" + binding + ".json"):
        for vector in json.loads((HERE / name).read_text())["vectors"]:
            chunks = [bytes.fromhex(c) for c in vector["chunks"]]
            if binding == "gatt":
                chunks = [len(c).to_bytes(2, "little") + c for c in chunks]
            yield vector["name"].split("-")[0], b"".join(chunks)


def seeds(binding):
    grouped = {}
    for word, data in pieces(binding):
        files = grouped.setdefault(word, [b""])
        if files[-1] and len(files[-1]) + len(data) > LONGEST:
            files.append(b"")
        files[-1] += data
    return {"%s-%d" % (word, i): data for word, files in grouped.items() for i, data in enumerate(files)}


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--out", type=pathlib.Path, default=HERE.parent / "src/test/resources")
    options = parser.parse_args()
    for binding, target in TARGETS.items():
        folder = options.out / PACKAGE / (target + "Inputs") / METHOD
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        for name, data in seeds(binding).items():
            (folder / name).write_bytes(data)


if __name__ == "__main__":
    main()
