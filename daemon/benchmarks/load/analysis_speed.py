#!/usr/bin/python3
"""Re-analysis of a long recording beside NumPy and SciPy on the same samples, in one run.

Writes a recording of simulated cells (one hour of two at 1 kHz), then measures

  - the analysis in one warm process, by the CPU time of the thread that does it;
  - `heldmark analyse FILE --json` as a whole process: CPU, wall and peak memory, start-up included;
  - the peer: counts of 24 bit, already taken out of file and frames and lying in memory, to integers, to newtons, low-pass
    (Butterworth, order 2, 50 Hz, sosfilt), crossings of a threshold. It checks nothing, aligns nothing and measures nothing.

Prints medians with the lowest and highest, and the ratios. Needs Debian's python3-scipy, the built launcher, and
`mvn -pl daemon/benchmarks -am -DskipTests package`.

    daemon/benchmarks/load/analysis_speed.py [--seconds 3600] [--scenario demo] [--rounds 12] [--runs 5]
"""

import argparse
import os
import pathlib
import statistics
import struct
import subprocess
import tempfile
import time

import numpy as np
import scipy.signal

ROOT = pathlib.Path(__file__).resolve().parents[3]
TARGET = ROOT / "daemon/benchmarks/target"
JAVA = ["java", "-XX:+UseSerialGC", "-Xmx256m", "-cp", f"{TARGET}/heldmark-benchmarks.jar:{TARGET}/lib/*"]
PACKET, SAMPLES, HEADER_BYTES, COUNTS_PER_NEWTON, THRESHOLD_N = 6, 2, 8, 1500.0, 20.0


def link_bytes(path):
    """The bytes of each link, from the file's packets; interface 0 is the station's own."""
    data, at, links = path.read_bytes(), 0, {}
    while at < len(data):
        kind, length = struct.unpack_from("<II", data, at)
        if kind == PACKET:
            interface, captured = struct.unpack_from("<I8xI", data, at + 8)
            if interface:
                links.setdefault(interface, []).append(data[at + 28 : at + 28 + captured])
        at += length
    return [b"".join(links[i]) for i in sorted(links)]


def packed_counts(stream):
    """The 24-bit counts of a byte stream, packed; frames of another length than most are left out."""
    raw = np.frombuffer(stream, np.uint8)
    ends = np.flatnonzero(raw == 0)
    lengths = np.diff(ends) - 1
    usual = np.bincount(lengths).argmax()
    starts = ends[:-1][lengths == usual] + 1
    frames = raw[starts[:, None] + np.arange(usual)]
    row, mark = np.arange(len(frames)), frames[:, 0].astype(np.int64)
    while len(row):
        inside = mark < usual
        row, mark = row[inside], mark[inside]
        step = frames[row, mark].astype(np.int64)
        frames[row, mark] = 0
        mark = mark + step
    frames = frames[frames[:, 1] == SAMPLES]
    return np.ascontiguousarray(frames[:, 2 + HEADER_BYTES : usual - 2]).reshape(-1)


def peer_round(channels, sos):
    """Counts in memory to crossings of a threshold; returns their number."""
    crossings = 0
    for packed in channels:
        three = packed.reshape(-1, 3)
        counts = np.zeros((len(three), 4), np.uint8)
        counts[:, 1:] = three
        force = (counts.view("<i4").reshape(-1) >> 8) / COUNTS_PER_NEWTON
        smooth = scipy.signal.sosfilt(sos, force - np.median(force[:1000]))
        crossings += int(np.count_nonzero(np.diff(smooth > THRESHOLD_N)))
    return crossings


def peer(path, rounds):
    channels = [packed_counts(stream) for stream in link_bytes(path)]
    samples = sum(len(c) // 3 for c in channels)
    sos = scipy.signal.butter(2, 50, fs=1000, output="sos")
    rates = []
    for _ in range(rounds):
        before = time.process_time()
        peer_round(channels, sos)
        rates.append(samples / (time.process_time() - before))
    return rates


def warm(path, rounds):
    out = subprocess.run(JAVA + ["io.heldmark.benchmark.AnalysisRounds", path, str(rounds)], check=True, capture_output=True)
    lines = [line.split() for line in out.stdout.decode().splitlines()]
    return [int(n) / float(s) for n, s in lines]


def whole(path, runs):
    """User and system CPU, wall seconds and peak megabytes of each run, after one that is not counted."""
    figures = []
    for _ in range(runs + 1):
        before = time.monotonic()
        child = subprocess.Popen([ROOT / "heldmark", "analyse", path, "--json"], stdout=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        if status:
            raise SystemExit("heldmark analyse failed")
        figures.append((used.ru_utime, used.ru_stime, time.monotonic() - before, used.ru_maxrss / 1024))
    return figures[1:]


def show(name, values, unit):
    print(f"{name}: {statistics.median(values):.2f} {unit} (lowest {min(values):.2f}, highest {max(values):.2f})", flush=True)


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--seconds", type=float, default=3600)
    options.add_argument("--scenario", default="demo")
    options.add_argument("--rounds", type=int, default=12)
    options.add_argument("--runs", type=int, default=5)
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "recording.pcapng"
        subprocess.run(
            JAVA + ["io.heldmark.benchmark.SeasonFile", path, str(chosen.seconds), chosen.scenario],
            check=True,
            stderr=subprocess.DEVNULL,
        )
        print(f"recording: {path.stat().st_size / 1e6:.1f} MB")
        figures = whole(path, chosen.runs)  # First: a child's peak memory is never less than what this process has had.
        for i, (name, unit) in enumerate([("user", "s"), ("system", "s"), ("wall", "s"), ("peak memory", "MB")]):
            show(f"whole process, {name}", [f[i] for f in figures], unit)
        ours = [r / 1e6 for r in warm(path, chosen.rounds)]
        show("first round in a new process", ours[:1], "million samples/s of CPU time")
        ours = ours[len(ours) // 2 :]
        show("warm", ours, "million samples/s of CPU time")
        theirs = [r / 1e6 for r in peer(path, chosen.rounds)]
        show("peer", theirs, "million samples/s of CPU time")
        print(f"ratio warm / peer: {statistics.median(ours) / statistics.median(theirs):.3f}")


if __name__ == "__main__":
    main()
