#!/usr/bin/env python3
"""Judges what the guest of the bench left of a scenario: the station's recording against the truth of the cells.

    check.py FOLDER LIBRARY SCENARIO PROVIDER

FOLDER holds truth*.json, one recording, cpu.txt; LIBRARY is that of the program, which replays the recording. Prints what was expected
and found and ends with exit code 1 where something is missed, or 3 where it is and the machine stood still meanwhile. Nothing here depends on how long anything took; limits are on counts,
order and forces, and on the times that the station says things happened at.
"""

import json
import pathlib
import subprocess
import sys

here = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(here.parents[1] / "daemon" / "benchmarks" / "robustness"))
from processes import packets  # noqa: E402 the reader of recordings that knows nothing of the station's code

# The rise of these efforts takes about 0.2 s; an emulated machine hands notifications over late, on a busy host by a part of a second.
ONSET_LIMIT_S = 0.06
LAG_LIMIT_S = 0.03
PEAK_LIMIT = 0.02
# With this the station and the cells cannot keep time, and what comes of it is no matter of theirs.
STOOD_STILL_LIMIT_S = 0.5
STREAM = 0x58  # first byte of a value of the stream characteristic in a recording
SAMPLES_IN_MESSAGE = 14
WIDE_SAMPLES_IN_MESSAGE = 29


class Scenario:
    """What is known of one scenario."""

    def __init__(self, folder, library, limbs):
        self.folder = folder
        self.rows = []
        self.notes = []
        self.cells = {}
        for file in sorted(folder.glob("truth*.json")):
            truth = json.loads(file.read_text())
            for cell in truth["cells"]:
                self.cells[cell["cell"]] = dict(cell, startNs=truth["startUnixNs"])
        recordings = sorted(folder.glob("*.pcapng"))
        self.expect("recordings", 1, len(recordings))
        self.recorded = list(packets(recordings[0]))
        self.anchor = self.recorded[0][0]
        out = subprocess.run(
            ["java", "-Xmx256m", "-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-cp", f"{library}/heldmark-app.jar",
             "io.heldmark.cli.Main", "replay", str(recordings[0]), "--json"], capture_output=True, text=True, check=False)
        self.expect("replay ends with", 0, out.returncode)
        self.events = [json.loads(line) for line in out.stdout.splitlines()]
        self.expect("cells that played", limbs, set(self.cells))
        self.expect("links of the station", limbs, set(self.links()))

    def expect(self, what, wanted, found):
        """Expects equality, or, where `wanted` is a pair of numbers, a number from the first to the second."""
        good = wanted[0] <= found <= wanted[1] if isinstance(wanted, tuple) else wanted == found
        self.rows.append((what, wanted, found, good))

    def missed(self, what, found):
        self.rows.append((what, "", found, False))

    def note(self, text):
        self.notes.append(text)

    def links(self):
        """The last `link` event of each link, by limb."""
        last = {}
        for event in self.events:
            if event["type"] == "link":
                last[event["link"]] = event
        return {limb: last[name] for limb, name in zip(("left", "right"), sorted(last)) if limb in self.cells}

    def contractions(self, limb):
        """The final contractions of the first channel of a limb, in station seconds."""
        last = {}
        first = min((e["channel"] for e in self.events if e["type"] == "contraction" and e.get("limb") == limb), default=None)
        for event in self.events:
            if event["type"] == "contraction" and event["channel"] == first:
                last[event["id"]] = event
        return [c for c in last.values() if c["revision"] == "final"]

    def shift_s(self, limb):
        """Station time plus this is the time of the cell's scenario."""
        return (self.anchor - self.cells[limb]["startNs"]) * 1e-9

    def holds(self, limb):
        return [t for t in self.cells[limb]["channels"][0]["contractions"] if t["complete"]]

    def damage(self, limb, kind):
        return [d for d in self.cells[limb]["damage"] if d["kind"] == kind]

    def breaks(self, limb):
        """When the link was down, in the cell's time: from half a second before it broke until samples came again."""
        number = ("left", "right").index(limb)
        spans, since = [], None
        up = False
        for time_ns, interface, data in self.recorded:
            at = (time_ns - self.cells[limb]["startNs"]) * 1e-9
            if interface == 0 and b'"linkState"' in data:
                event = json.loads(data)
                if event["link"] == number:
                    up = event["state"] == "UP"
                    since = at - 0.5 if not up and since is None else since
            elif interface == number + 1 and up and since is not None and data[:1] == bytes([STREAM]):
                spans.append((since, at + 0.5))
                since = None
        return spans if since is None else spans + [(since, 1e9)]


def peak(contraction):
    return next((m["value"] for m in contraction["metrics"] if m["id"] == "force.peak"), None)


def flags(contraction):
    return {f["id"] for f in contraction["flags"]}


def hold(s, limb, t, own, lost, told):
    """One true hold that no break touches: found once, where and as strong as it was.

    Where messages were lost in it the contraction must say so; where `told`, it may also without.
    """
    label = f"{limb}: hold of {t['onsetS']:.2f} to {t['offsetS']:.2f} s"
    if len(own) != 1:
        s.missed(label, f"found {len(own)} times")
        return 0, 0
    inside = any(d["toS"] > t["onsetS"] + 0.1 and d["fromS"] < t["offsetS"] - 0.1 for d in lost)
    if inside and not {"gap-inside", "onset-not-seen", "samples-lost"} & flags(own[0]):
        s.missed(label + ": messages are missing", f"flags {sorted(flags(own[0]))}")
    onset = own[0]["onsetS"] - t["onsetS"]
    force = peak(own[0])
    strength = 1.0 if force is None else force / (t["peakN"] - t["restingLevelN"]) - 1
    if abs(strength) > PEAK_LIMIT or (abs(onset) > ONSET_LIMIT_S and not (
            (lost or told) and "onset-not-seen" in flags(own[0]))):
        s.missed(label, f"onset {1e3 * onset:.1f} ms, peak {100 * strength:.2f} % off")
    return onset, strength


def holds(s, limb, least, lost=(), told=False):
    """Every true hold; those that a break of the link touches may be pieces, and say so. At least so many are without a break."""
    shift = s.shift_s(limb)
    found = [dict(c, onsetS=c["onsetS"] + shift, offsetS=c["offsetS"] + shift) for c in s.contractions(limb) if "offsetS" in c]
    breaks = s.breaks(limb)
    worst_onset = worst_peak = 0.0
    whole = 0
    for t in s.holds(limb):
        own = [c for c in found if c["onsetS"] < t["offsetS"] and c["offsetS"] > t["onsetS"]]
        if any(a < t["offsetS"] and b > t["onsetS"] for a, b in breaks):
            silent = [c for c in own if not flags(c) & {"gap-inside", "onset-not-seen", "samples-lost", "clock-restarted"}
                      and any(a < c["offsetS"] and b > c["onsetS"] for a, b in breaks)]
            s.expect(f"{limb}: pieces of a broken hold that do not say so", 0, len(silent))
            continue
        whole += 1
        onset, strength = hold(s, limb, t, own, lost, told)
        worst_onset, worst_peak = max(worst_onset, onset, key=abs), max(worst_peak, strength, key=abs)
    nobody = [c for c in found if not any(c["onsetS"] < t["offsetS"] + 0.2 and c["offsetS"] > t["onsetS"] - 0.2
                                          for t in s.cells[limb]["channels"][0]["contractions"])]
    s.expect(f"{limb}: found where nobody pulled", 0, len(nobody))
    s.expect(f"{limb}: whole holds", (least, 99), whole)
    s.note(f"{limb}: {whole} holds, worst onset {1e3 * worst_onset:.1f} ms, worst peak {100 * worst_peak:.2f} % off")


def both(s, least=1, told=False):
    for limb in s.cells:
        holds(s, limb, least, s.damage(limb, "loss"), told)
    errors = lag_errors(s)
    if errors:
        s.note("lag between the limbs, error in ms: " + " ".join(f"{1e3 * e:.1f}" for e in errors))


def lag_errors(s):
    """Errors of the lag between the limbs, as the station tells it, against that of the truth, in seconds."""
    errors = []
    if len({cell["startNs"] for cell in s.cells.values()}) != 1 or len(s.cells) < 2:
        return errors  # Cells of two runs have nothing in common.
    shift = s.shift_s("left")
    left = {c["id"]: c for c in s.contractions("left")}
    for e in {e["id"]: e for e in s.events if e["type"] == "effort"}.values():
        one = left.get(e["leftContractionId"])
        pairs = [(a, b) for a in s.holds("left") for b in s.holds("right")
                 if one and abs(a["onsetS"] - one["onsetS"] - shift) < 1 and a["effort"] == b["effort"]]
        if pairs:
            true_s = pairs[0][1]["onsetS"] - pairs[0][0]["onsetS"]
            errors.append(e["onsetLagS"] - true_s)
    return errors


def each(s, key, wanted):
    """A counter of each link; `wanted` tells it for a limb."""
    for limb, link in s.links().items():
        s.expect(f"{limb}: {key}", wanted(limb), link[key])


def nothing(s, *keys):
    for key in keys:
        each(s, key, lambda limb: 0)


def all_came(s):
    """Not a sample is missing, but for what the cell had taken and not yet sent when it was switched off."""
    nothing(s, "lostSamples")
    for limb, link in s.links().items():
        cell = s.cells[limb]
        s.expect(f"{limb}: samples", (cell["samplesTaken"] - 0.5 * cell["sampleRateHz"], cell["samplesTaken"]), link["samples"])
        s.expect(f"{limb}: messages that found no room in the cell's own queue", 0, len(s.damage(limb, "unread")))


def clean(s):
    all_came(s)
    nothing(s, "duplicates", "reordered", "putBack", "reconnects", "skippedBytes")
    both(s, 2)
    within = [e for e in lag_errors(s) if abs(e) <= LAG_LIMIT_S]
    s.expect(f"efforts of both limbs, with their lag within {1e3 * LAG_LIMIT_S:.0f} ms", (2, 99), len(within))


def reordering(s):
    for limb, link in s.links().items():
        moved = len([d for d in s.damage(limb, "reorder") if d["lostSamples"] > 0])
        late = link["reordered"]
        s.expect(f"{limb}: messages that changed places", (8, 999), moved)
        # The station waits 50 ms for a message. One that an emulated machine brings later than that is told as such, never silently.
        s.expect(f"{limb}: put back or told as late", (moved - 1, moved), link["putBack"] + late)
        s.expect(f"{limb}: put back", (moved / 2, moved), link["putBack"])
        s.expect(f"{limb}: samples counted as lost", late * SAMPLES_IN_MESSAGE, link["lostSamples"])
        s.note(f"{limb}: of {moved} messages that changed places {link['putBack']} put back, {late} too late")
    nothing(s, "duplicates", "reconnects")
    both(s, told=True)


def loss(s):
    for limb, link in s.links().items():
        lost = s.damage(limb, "loss")
        samples = sum(d["lostSamples"] for d in lost)
        s.expect(f"{limb}: messages lost on the way", (3, 999), len(lost))
        # The last message may be among them: then nothing follows that would tell.
        s.expect(f"{limb}: samples counted as lost", (samples - SAMPLES_IN_MESSAGE, samples), link["lostSamples"])
        s.expect(f"{limb}: messages that found no room in the cell's own queue", 0, len(s.damage(limb, "unread")))
    nothing(s, "duplicates", "reordered", "reconnects")
    both(s)


def garbage(s):
    all_came(s)
    for limb, link in s.links().items():
        sent = s.damage(limb, "garbage")
        size = sum(d["bytes"] for d in sent)
        s.expect(f"{limb}: values of garbage", (3, 999), len(sent))
        # A value of garbage is skipped whole, with the byte of its characteristic.
        s.expect(f"{limb}: bytes skipped", (size, size + 2 * len(sent)), link["skippedBytes"])
    nothing(s, "reconnects")
    both(s)


def disconnect(s):
    links = s.links()
    s.expect("left: came back", 1, links["left"]["reconnects"])
    s.expect("left: breaks while it streamed", 1, len([a for a, b in s.breaks("left") if a > 0 and b < 1e9]))
    s.expect("left: samples of the break are counted", (1, 1e9), links["left"]["lostSamples"])
    s.expect("right: stayed", 0, links["right"]["reconnects"])
    s.expect("right: lost", 0, links["right"]["lostSamples"])
    both(s)


def stack_restart(s):
    for limb, link in s.links().items():
        s.expect(f"{limb}: came back", (1, 9), link["reconnects"])
        s.expect(f"{limb}: breaks while it streamed", 1, len([a for a, b in s.breaks(limb) if a > 0 and b < 1e9]))
    both(s)


def late_join(s):
    links = s.links()
    s.expect("left: lost while the other came", 0, links["left"]["lostSamples"])
    s.expect("left: stayed", 0, links["left"]["reconnects"])
    s.expect("right: samples", (1000, 1e9), links["right"]["samples"])
    s.expect("right: lost", 0, links["right"]["lostSamples"])
    both(s)


def throughput(s):
    all_came(s)
    nothing(s, "duplicates", "reordered", "putBack", "reconnects")
    for limb, link in s.links().items():
        s.expect(f"{limb}: messages of 240 bytes", (6000, 1e9), link["samples"] // WIDE_SAMPLES_IN_MESSAGE)
    both(s)


def server(s):
    all_came(s)
    nothing(s, "duplicates", "reordered", "reconnects", "skippedBytes")
    both(s, 2)


def alignment(s):
    all_came(s)
    both(s, 2)
    for limb, link in s.links().items():
        s.note(f"{limb}: station's own standard uncertainty of time {1e3 * link['timeStandardUncertaintyS']:.2f} ms, "
               f"clock {link['clockSkewPpm']:.0f} ppm, arrivals {1e3 * link['arrivalJitterS']:.2f} ms")


CHECKS = {"clean": clean, "reordering": reordering, "loss": loss, "disconnect": disconnect, "stack-restart": stack_restart,
          "late-join": late_join, "garbage": garbage, "throughput": throughput}


def cpu(folder):
    """Seconds, and processor time in percent of one core of the guest."""
    try:
        t0, *first, t1, station, stack, cells = (float(x) for x in (folder / "cpu.txt").read_text().split())
    except (OSError, ValueError):
        return ""
    percent = [(now - then) / (t1 - t0) for now, then in zip((station, stack, cells), first)]
    told = [f"{who} {share:.0f} %" for who, share in zip(("station", "bluetoothd", "cells"), percent) if share >= 0]  # started anew: less
    return f"; {t1 - t0:.0f} s, {', '.join(told)} of a core of the machine"


def stood_still_s(folder):
    """For how long the machine stood still while the scenario was played, because its host was busy."""
    try:
        return int((folder / "stood-still.txt").read_text()) / 100
    except (OSError, ValueError):
        return 0.0


def main():
    folder, library, scenario, provider = pathlib.Path(sys.argv[1]), *sys.argv[2:5]
    rows, notes = [], []
    try:
        s = Scenario(folder, library, {"left"} if provider == "server" else {"left", "right"})
        rows, notes = s.rows, s.notes
        (server if provider == "server" else CHECKS.get(scenario, alignment))(s)
    except (KeyError, IndexError, StopIteration, ValueError, OSError) as e:
        rows.append(("evidence", "complete", f"{type(e).__name__}: {e}", False))
    bad = [row for row in rows if not row[3]]
    print(f"{'MISSED' if bad else 'passed'}  {folder.name} ({provider}): {len(rows)} expectations{cpu(folder)}")
    for what, wanted, found, _ in bad:
        print(f"      ! {what}: expected {wanted}, found {found}")
    for note in notes:
        print(f"        {note}")
    still_s = stood_still_s(folder)
    if still_s:
        print(f"        the machine stood still for {still_s:.2f} s")
    sys.exit(0 if not bad else 3 if still_s > STOOD_STILL_LIMIT_S else 1)


if __name__ == "__main__":
    main()
