#!/usr/bin/env python3
"""Writes bytes.json, text.json and gatt.json, the golden vectors of the Gaugeline protocol. Standard library only.

    make_vectors.py [--out DIR]     write them (default: beside this script)
    make_vectors.py --check         write nothing; exit 1 where a committed file would change
"""

import argparse
import pathlib
import sys

sys.dont_write_bytecode = True

from cases_bytes import bytes_cases
from cases_gatt import gatt_cases
from cases_text import text_cases
from gaugeline import cobs, crc16
from vector import document

HERE = pathlib.Path(__file__).resolve().parent


def check_encoder():
    """Published values, before anything is made with the encoder."""
    assert crc16(b"123456789") == 0x29B1  # Catalogue of parametrised CRC algorithms, CRC-16/IBM-3740.
    packet = bytes.fromhex("4500002C4C79000040064F37")  # Cheshire and Baker 1999, figure 3.
    assert cobs(packet) == bytes.fromhex("024501042C4C79010540064F37")
    ones = b"\x01" * 679 + b"\x00"  # Figure 2.
    assert cobs(ones) == b"\xff" + b"\x01" * 254 + b"\xff" + b"\x01" * 254 + b"\xac" + b"\x01" * 171 + b"\x01"


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--out", type=pathlib.Path, default=HERE)
    parser.add_argument("--check", action="store_true")
    options = parser.parse_args()
    check_encoder()
    stale = []
    for binding, cases in (("bytes", bytes_cases), ("text", text_cases), ("gatt", gatt_cases)):
        name = binding + ".json"
        made = document(binding, cases()).encode()
        if not options.check:
            (options.out / name).write_bytes(made)
        elif made != (HERE / name).read_bytes():
            stale.append(name)
    if stale:
        sys.exit("not what the script makes: " + ", ".join(stale))


if __name__ == "__main__":
    main()
