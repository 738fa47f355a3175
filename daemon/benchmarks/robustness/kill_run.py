#!/usr/bin/python3
"""The kill run: SIGKILL of the recording station at random moments, again and again, while it records two simulated cells.

After each kill the recording must open (repaired to its last whole block), hold everything without a hole, and lack nothing
that is older than half a second: what the cells sent and the station's own clock, ten times a second, reach to within that of
the kill. The next station then records in the same folder.

    kill_run.py [--kills 50] [--seed 1]

Prints a table in Markdown, exit 1 on any miss. The recorder alone is killed by KillTest (see docs/robustness.md).
"""

import argparse
import json
import pathlib
import random
import sys
import tempfile
import time

from processes import Cells, Daemon, packets, recordings, run, table

LIMIT_MS = 500


def newest_ms_before(file, kill_ns):
    """How long before the kill the newest packet of the station and of each link is, in ms; by interface."""
    newest = {}
    for at_ns, interface, _ in packets(file):
        if interface >= 0:
            newest[interface] = max(newest.get(interface, 0), at_ns)
    return {interface: (kill_ns - at_ns) / 1e6 for interface, at_ns in newest.items()}


def kill_once(data, links, delay_s, known):
    """Starts a station, kills it so long after its recording began; returns the file and the time of the kill."""
    station = Daemon(data, links)
    end = time.monotonic() + 120
    while not set(recordings(data)) - known:
        if time.monotonic() > end or station.process.poll() is not None:
            sys.exit("the station did not begin to record")
        time.sleep(0.02)
    time.sleep(delay_s)
    kill_ns = station.kill()
    (file,) = set(recordings(data)) - known
    return file, kill_ns


def holes(file):
    """Messages missing and checks failed in what the recording holds of each link, by `heldmark decode`."""
    code, lines, error = run("decode", file, "--json")
    ends = [json.loads(line) for line in lines if '"type":"end"' in line]
    return code, sum(e.get("missingFrames", 0) + e.get("crcFailures", 0) for e in ends), error


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    chance = random.Random(args.seed)
    misses, lags, torn, whole_links = [], [], 0, 0
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        data = folder / "data"
        cells = Cells(folder, "demo")
        known = set()
        for number in range(args.kills):
            file, kill_ns = kill_once(data, cells.links, chance.uniform(0, 4), known)
            known.add(file)
            size = file.stat().st_size
            lag = newest_ms_before(file, kill_ns)
            lags.append(max(lag.values(), default=0))
            whole_links += len(lag) == 3
            if lag and max(lag.values()) > LIMIT_MS:
                misses.append(f"kill {number + 1}: the newest packets are {lag} ms old")
            code, hole, error = holes(file)
            if size and (hole or (code != 0 and lag and len(lag) > 1)):
                misses.append(f"kill {number + 1}: decode ends with {code}, {hole} missing: {error.strip()}")
            print(f"kill {number + 1}: {size} bytes, newest packet {lags[-1]:.0f} ms before", file=sys.stderr, flush=True)
        cells.stop()
        code, lines, error = run("recordings", "--json", "--data", data)
        listed = {json.loads(line)["file"]: json.loads(line) for line in lines}
        empty = [f for f in known if f.stat().st_size == 0]
        opened = len(listed)
        replayed = 0
        for file in sorted(known):
            code, lines, error = run("replay", file, "--json")
            replayed += code == 0
            if code != 0 and file not in empty:
                misses.append(f"{file.name}: replay ends with {code}: {error.strip()}")
    rows = [
        ("recordings that open", args.kills - len(empty), opened, opened == args.kills - len(empty)),
        ("killed before the first byte was written (at most 0.5 s old)", "-", len(empty), True),
        ("recordings that replay", args.kills - len(empty), replayed, replayed == args.kills - len(empty)),
        ("oldest thing missing before the kill, ms", f"at most {LIMIT_MS}", round(max(lags)), max(lags) <= LIMIT_MS),
        ("recordings that hold both cells", "-", whole_links, whole_links > 0),
        ("holes, wrong checks, refusals", 0, "; ".join(misses) or 0, not misses),
    ]
    table(rows)
    sys.exit(0 if all(row[3] for row in rows) else 1)


main()
