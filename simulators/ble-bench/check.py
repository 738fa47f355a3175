#!/usr/bin/env python3
"""Judges what the guest of the bench left of each scenario: the station's recording against the truth of the cells.

    check.py FOLDER LIBRARY

FOLDER holds a folder for each scenario that `scenarios` lists; LIBRARY is that of the program, which replays the recordings. Prints a
row for each expectation and ends with exit code 1 where one is missed. Nothing here depends on how long anything took.
"""

import json
import pathlib
import subprocess
import sys

here = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(here.parents[1] / "daemon" / "benchmarks" / "robustness"))
from processes import packets  # noqa: E402 the reader of recordings that knows nothing of the station's code

# The rise of these efforts takes about 0.2 s; the guest is emulated and hands notifications over some ms late.
ONSET_LIMIT_S = 0.06
LAG_LIMIT_S = 0.03
PEAK_LIMIT = 0.02
EXCUSES = {"gap-inside", "onset-not-seen", "samples-lost", "clock-restarted"}
STREAMS_AGAIN_S = 8  # after a break: found, connected, asked who it is, started


class Scenario:
    """What is known of one scenario."""

    def __init__(self, folder, library):
        self.folder = folder
        self.rows = []
        self.cells = []
        for file in sorted(folder.glob("truth*.json")):
            truth = json.loads(file.read_text())
            for cell in truth["cells"]:
                self.cells.append(dict(cell, startNs=truth["startUnixNs"]))
        recordings = sorted(folder.glob("*.pcapng"))
        self.expect("one recording", 1, len(recordings), len(recordings) == 1)
        self.events, self.anchor = [], 0
        if recordings:
            self.anchor = next(packets(recordings[0]))[0]
            out = subprocess.run(
                ["java", "-Xmx256m", "-XX:+UseSerialGC", "-cp", f"{library}/heldmark-app.jar", "io.heldmark.cli.Main", "replay",
                 str(recordings[0]), "--json"], capture_output=True, text=True, check=False)
            self.expect("replay ends well", 0, f"{out.returncode} {out.stderr.strip()[:200]}".strip(), out.returncode == 0)
            self.events = [json.loads(line) for line in out.stdout.splitlines()]

    def expect(self, what, wanted, found, good):
        self.rows.append((what, wanted, found, good))

    def links(self):
        """The last `link` event of each link, in the order left, right."""
        last = {}
        for event in self.events:
            if event["type"] == "link":
                last[event["link"]] = event
        return [last[name] for name in sorted(last)]

    def contractions(self, limb):
        last = {}
        for event in self.events:
            if event["type"] == "contraction" and event.get("limb") == limb:
                last[event["id"]] = event
        return [c for c in last.values() if c["revision"] == "final"]

    def cell(self, name):
        return next(c for c in self.cells if c["cell"] == name)

    def shift_s(self, cell):
        """Station time plus this is the time of the cell's scenario."""
        return (self.anchor - cell["startNs"]) * 1e-9

    def true_contractions(self, cell, from_s=0.0):
        return [t for t in cell["channels"][0]["contractions"] if t["complete"] and t["onsetS"] > from_s]


def peak(contraction):
    return next((m["value"] for m in contraction["metrics"] if m["id"] == "force.peak"), None)


def whole(s, name, spoilt=()):
    """Every true contraction is found once, where and as strong as it was; those that meet a spoilt span may be pieces."""
    cell = s.cell(name)
    shift = s.shift_s(cell)
    found = [dict(c, onsetS=c["onsetS"] + shift, offsetS=c["offsetS"] + shift) for c in s.contractions(name) if "offsetS" in c]
    worst_onset = worst_peak = 0.0
    clean = touched = 0
    for t in s.true_contractions(cell):
        own = [c for c in found if c["onsetS"] < t["offsetS"] and c["offsetS"] > t["onsetS"]]
        label = f"{name}: hold of {t['onsetS']:.2f} to {t['offsetS']:.2f} s"
        if any(a < t["offsetS"] + 0.3 and b > t["onsetS"] - 0.3 for a, b in spoilt):
            touched += 1
            excused = [c for c in own if EXCUSES & {f["id"] for f in c["flags"]}]
            near = [c for c in own if abs(c["onsetS"] - t["onsetS"]) < ONSET_LIMIT_S and abs(c["offsetS"] - t["offsetS"]) < 0.2]
            if len(excused) + len([c for c in near if c not in excused]) != len(own):
                s.expect(label + " with the break in it says so", "flags", [c["flags"] for c in own], False)
            continue
        clean += 1
        if len(own) != 1:
            s.expect(label, "found once", f"{len(own)} times", False)
            continue
        onset = own[0]["onsetS"] - t["onsetS"]
        force = peak(own[0])
        rest = own[0]["restingLevelN"] if force is None else 0
        strength = 0.0 if force is None else force / (t["peakN"] - t["restingLevelN"]) - 1
        worst_onset = max(worst_onset, abs(onset), key=abs)
        worst_peak = max(worst_peak, strength, key=abs)
        if abs(onset) > ONSET_LIMIT_S or abs(strength) > PEAK_LIMIT + rest * 0 or force is None:
            s.expect(label, "the truth", f"onset {1e3 * onset:.1f} ms, peak {100 * strength:.2f} %", False)
    nobody = [c for c in found if not any(c["onsetS"] < t["offsetS"] and c["offsetS"] > t["onsetS"]
                                          for t in cell["channels"][0]["contractions"])]
    s.expect(f"{name}: nothing found where nobody pulled", 0, len(nobody), not nobody)
    s.expect(f"{name}: whole holds ({touched} touched by a break); worst onset {1e3 * worst_onset:.1f} ms, peak {100 * worst_peak:.2f} %",
             "at least 1", clean, clean >= 1)


def both(s, **spoilt):
    for name in ("left", "right"):
        whole(s, name, spoilt.get(name, ()))


def lags(s):
    """The lag between the limbs, as the station tells it, against that of the truth."""
    efforts = [e for e in s.events if e["type"] == "effort"]
    s.expect("efforts of both limbs", "at least 1", len(efforts), len(efforts) >= 1)
    shift = s.shift_s(s.cell("left"))
    for e in {e["id"]: e for e in efforts}.values():
        left = next(c for c in s.contractions("left") if c["id"] == e["leftContractionId"])
        pairs = [(a, b) for a in s.true_contractions(s.cell("left")) for b in s.true_contractions(s.cell("right"))
                 if abs(a["onsetS"] - left["onsetS"] - shift) < 1 and a["effort"] == b["effort"]]
        if pairs:
            true_lag = pairs[0][1]["onsetS"] - pairs[0][0]["onsetS"]
            error = e["onsetLagS"] - true_lag
            s.expect(f"lag between the limbs (error {1e3 * error:.1f} ms)", f"{1e3 * true_lag:.1f} ms", f"{1e3 * e['onsetLagS']:.1f} ms",
                     abs(error) < LAG_LIMIT_S)


def damage(cell, kind):
    return [d for d in cell["damage"] if d["kind"] == kind]


def counters(s, key, wanted, slack=0):
    for link, cell in zip(s.links(), [s.cell("left"), s.cell("right")]):
        value = wanted(cell)
        s.expect(f"{cell['cell']}: {key}", value, link[key], abs(link[key] - value) <= slack)


def nothing_lost(s, slack_samples=0):
    counters(s, "lostSamples", lambda cell: 0)
    for link, cell in zip(s.links(), [s.cell("left"), s.cell("right")]):
        # What was on its way when the cell was switched off is not lost but was never sent.
        late = cell["samplesTaken"] - link["samples"]
        s.expect(f"{cell['cell']}: samples of {cell['samplesTaken']}", "all but the last 0.5 s", link["samples"],
                 0 <= late <= 0.5 * cell["sampleRateHz"] + slack_samples)


def clean(s):
    nothing_lost(s)
    counters(s, "duplicates", lambda cell: 0)
    counters(s, "reordered", lambda cell: 0)
    counters(s, "putBack", lambda cell: 0)
    counters(s, "reconnects", lambda cell: 0)
    both(s)
    lags(s)


def reordering(s):
    nothing_lost(s)
    counters(s, "reordered", lambda cell: 0)
    counters(s, "putBack", lambda cell: len([d for d in damage(cell, "reorder") if d["lostSamples"] > 0]), 2)
    s.expect("messages that changed places", "at least 5", sum(len(damage(c, "reorder")) for c in s.cells),
             sum(len(damage(c, "reorder")) for c in s.cells) >= 5)
    both(s)


def loss(s):
    counters(s, "lostSamples", lambda cell: sum(d["lostSamples"] for d in damage(cell, "loss")), 14)
    s.expect("messages lost", "at least 5", sum(len(damage(c, "loss")) for c in s.cells),
             sum(len(damage(c, "loss")) for c in s.cells) >= 5)
    both(s, left=[(d["fromS"], d["toS"]) for d in damage(s.cell("left"), "loss")],
         right=[(d["fromS"], d["toS"]) for d in damage(s.cell("right"), "loss")])


def garbage(s):
    nothing_lost(s)
    for link, cell in zip(s.links(), [s.cell("left"), s.cell("right")]):
        wanted = sum(d["bytes"] for d in damage(cell, "garbage"))
        s.expect(f"{cell['cell']}: bytes skipped", f"about {wanted} of garbage, and the characteristic's byte", link["skippedBytes"],
                 wanted > 0 and wanted <= link["skippedBytes"] <= 3 * wanted + 20)
    both(s)


def disconnect(s):
    left, right = s.links()
    s.expect("left: came back", 1, left["reconnects"], left["reconnects"] >= 1)
    s.expect("right: stayed", 0, right["reconnects"], right["reconnects"] == 0)
    gone = damage(s.cell("left"), "disconnect")[0]
    s.expect("left: the gap is counted", "samples lost", left["lostSamples"], left["lostSamples"] > 0)
    both(s, left=[(gone["fromS"], gone["fromS"] + STREAMS_AGAIN_S)])


def stack_restart(s):
    for link in s.links():
        s.expect(f"{link['link']}: came back", 1, link["reconnects"], link["reconnects"] >= 1)
    spoilt = {}
    for cell in s.cells:
        killed, back = (float((s.folder / name).read_text()) - cell["startNs"] * 1e-9 for name in ("killed", "restarted"))
        spoilt[cell["cell"]] = [(killed, back + STREAMS_AGAIN_S)]
    both(s, **spoilt)


def late_join(s):
    left, right = s.links()
    s.expect("left: undisturbed by the other's coming", 0, left["lostSamples"], left["lostSamples"] == 0)
    s.expect("right: joined while left streamed", "samples", right["samples"], right["samples"] > 1000)
    s.expect("left: stayed", 0, left["reconnects"], left["reconnects"] == 0)
    both(s)


def throughput(s):
    nothing_lost(s)
    counters(s, "duplicates", lambda cell: 0)
    counters(s, "reordered", lambda cell: 0)
    for link, cell in zip(s.links(), [s.cell("left"), s.cell("right")]):
        s.expect(f"{cell['cell']}: messages of 240 bytes", "6000 at least", link["samples"] // 29, link["samples"] // 29 >= 6000)
    both(s)


CHECKS = {"clean": clean, "reordering": reordering, "loss": loss, "disconnect": disconnect, "stack-restart": stack_restart,
          "late-join": late_join, "garbage": garbage, "throughput": throughput}


def cpu(folder):
    file = folder / "cpu.txt"
    if not file.exists():
        return ""
    t0, station0, stack0, t1, station1, stack1 = (float(x) for x in file.read_text().split())
    span = t1 - t0
    return f"; station {100 * (station1 - station0) / span:.0f} %, bluetoothd {100 * (stack1 - stack0) / span:.0f} % of an emulated core"


def main():
    folder, library = pathlib.Path(sys.argv[1]), sys.argv[2]
    missed = 0
    for line in (folder / "scenarios").read_text().splitlines():
        name, scenario, kind = line.split()
        s = Scenario(folder / name, library)
        try:
            CHECKS[scenario](s)
        except (KeyError, IndexError, StopIteration, ValueError, OSError) as e:
            s.expect("evidence", "complete", f"{type(e).__name__}: {e}", False)
        bad = [row for row in s.rows if not row[3]]
        missed += len(bad)
        print(f"{'MISSED' if bad else 'passed'}  {name} ({kind}): {len(s.rows)} expectations{cpu(folder / name)}")
        for what, wanted, found, good in s.rows:
            if not good or "worst" in what or "lag" in what:
                print(f"        {'  ' if good else '! '}{what}: expected {wanted}, found {found}")
    sys.exit(1 if missed else 0)


if __name__ == "__main__":
    main()
