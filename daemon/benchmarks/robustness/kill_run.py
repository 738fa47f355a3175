#!/usr/bin/python3
"""The kill run: SIGKILL of the recording station at random moments, again and again, while it records two simulated cells.

After each kill the recording must open (repaired to its last whole block), replay, and lack nothing that is older than half a
second: it reaches to within that of the newest sample that the station had shown to a viewer when it was killed. Messages that are
missing before must be missing on the line, because nobody read it, by the cells' own truth. The next station then records
in the same folder.

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
from viewer import Viewer

LIMIT_MS = 500


def newest_ns(file):
    """Wall-clock time of station time 0, and of the newest packet of the station and of each link, by interface."""
    anchor, newest = 0, {}
    for at_ns, interface, _ in packets(file):
        if interface < 0:
            anchor = at_ns
        else:
            newest[interface] = max(newest.get(interface, 0), at_ns)
    return anchor, newest


def kill_once(data, links, delay_s, known):
    """Starts a station, kills it so long after its recording began; returns file, time of the kill, newest sample shown."""
    station = Daemon(data, links)
    end = time.monotonic() + 120
    viewer = None
    begun = None
    while begun is None or time.monotonic() - begun < delay_s:
        if begun is None and set(recordings(data)) - known:
            begun = time.monotonic()
        if viewer is None and station.healthy():
            viewer = Viewer(station.url)
            viewer.start()
        if time.monotonic() > end or station.process.poll() is not None:
            sys.exit("the station did not begin to record")
        time.sleep(0.02)
    kill_ns = station.kill()
    shown_ns = viewer.newest_ns if viewer else 0
    (file,) = set(recordings(data)) - known
    return file, kill_ns, shown_ns


def jumps(file, anchor):
    """Wall-clock spans over which messages are missing in a recording, by link; by the messages' own sequence numbers."""
    code, lines, error = run("decode", file, "--json")
    last, found = {}, []
    for line in lines:
        message = json.loads(line)
        if message.get("type") == "samples":
            before = last.get(message["link"])
            last[message["link"]] = message
            if before and (message["sequence"] - before["sequence"]) & 0xFFFF != 1:
                found.append((message["link"], anchor + before["arrivalS"] * 1e9, anchor + message["arrivalS"] * 1e9))
    return code, found, error


def unexplained(found, truth, links):
    """Jumps that no stretch explains in which nobody read the line."""
    names = {link: name for name, link in links.items()}
    unread = {}
    for cell in truth["cells"]:
        unread[cell["cell"]] = [
            (truth["startUnixNs"] + d["fromS"] * 1e9, truth["startUnixNs"] + d["toS"] * 1e9)
            for d in cell["damage"] if d["kind"] == "unread"]
    # What had been written and not read when a station was killed comes first to the next one: the jump is behind it.
    slack_ns = 1e9
    return [j for j in found if not any(
        fr - slack_ns <= j[2] and to + slack_ns >= j[1] for fr, to in unread[names[j[0]]])]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    chance = random.Random(args.seed)
    misses, lags, since_kill, holes, shown = [], [], [], [], 0
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        data = folder / "data"
        cells = Cells(folder, "demo")
        known = set()
        for number in range(args.kills):
            file, kill_ns, shown_ns = kill_once(data, cells.links, chance.uniform(0, 4), known)
            known.add(file)
            anchor, newest = newest_ns(file)
            links = [at_ns for interface, at_ns in newest.items() if interface > 0]
            lag = max(0, (anchor + shown_ns - min(links)) / 1e6) if links and shown_ns else 0
            shown += shown_ns > 0
            lags.append(lag)
            since_kill.append((kill_ns - max(newest.values())) / 1e6 if newest else 0)
            if shown_ns and len(links) < 2:
                misses.append(f"kill {number + 1}: shown to a viewer, and not in the file")
            if lag > LIMIT_MS:
                misses.append(f"kill {number + 1}: what was shown reaches {lag:.0f} ms farther than the file")
            code, found, error = jumps(file, anchor)
            if code:
                misses.append(f"kill {number + 1}: decode ends with {code}: {error.strip()}")
            holes += found
            print(f"kill {number + 1}: {file.stat().st_size} bytes, {lag:.0f} ms shown and not in it, newest packet "
                  f"{since_kill[-1]:.0f} ms before the kill", file=sys.stderr, flush=True)
        cells.stop()
        left = unexplained(holes, cells.truth(), cells.links)
        misses += [f"messages missing in {link}, though somebody read it" for link, _, _ in left]
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
        ("recordings with a viewer's account", "-", shown, shown > 0),
        ("shown to the viewer and not in the file, worst, ms", f"at most {LIMIT_MS}", round(max(lags)), max(lags) <= LIMIT_MS),
        ("newest packet before the kill, median and worst, ms", "-",
         f"{sorted(since_kill)[len(since_kill) // 2]:.0f}, {max(since_kill):.0f}", True),
        ("places where messages are missing; not for lack of a reader", "-, 0", f"{len(holes)}, {len(left)}", not left),
        ("misses", 0, "; ".join(misses) or 0, not misses),
    ]
    table(rows)
    sys.exit(0 if all(row[3] for row in rows) else 1)


main()
