#!/usr/bin/python3
"""The fault run: the real station for a minute with every fault of the simulators' plan at once, judged by their truth.

Starts `heldmark simulate faults` on pseudo-terminals and `heldmark serve` on ordinary serial links, recording, with one
WebSocket viewer. Judged are: the station stays up and healthy; every loss is counted and shown to the viewer; contractions
match the true ones one to one outside the damaged spans; the recording is complete and replays to the same results.

    fault_run.py [--seed N] [--runs N]

Prints a table in Markdown, exit 1 on any miss. Needs Debian's python3-websockets.
"""

import argparse
import json
import pathlib
import sys
import tempfile
import time

from judgement import Contractions, account
from processes import Cells, Daemon, packets, recordings, run, table
from viewer import Viewer

SHOWN = {
    "samples": "samples", "lostSamples": "lost_samples", "skippedBytes": "skipped_bytes", "crcFailures": "crc_failures",
    "duplicates": "duplicates", "reordered": "reordered", "reconnects": "reconnects", "clockRestarts": "clock_restarts"}


def is_result(event):
    final = '"revision":"final"' in event or '"revision":"withdrawn"' in event
    return event.startswith('{"type":"effort"') or (event.startswith('{"type":"contraction"') and final)


def fault_run(folder, seed):
    rows = []

    def check(what, expected, found, good):
        rows.append((what, expected, found, good))

    data = folder / "data"
    station = Daemon(data, {name: f"serial:{folder}/ports/{name}" for name in ("left", "right")})
    station.wait_until_healthy()
    viewer = Viewer(station.url)
    viewer.start()
    viewer.joined.wait(30)
    cells = Cells(folder, "faults", *(["--seed", seed] if seed is not None else []))
    asked = well = 0
    while cells.process.poll() is None:
        asked += 1
        well += station.healthy()
        time.sleep(1)
    time.sleep(2.5)
    metrics, resident = station.metrics(), station.resident_mb()
    check("healthy, of all times asked", asked, well, asked == well and station.healthy())
    check("viewer still connected", "yes", viewer.problem or "yes", not viewer.problem)
    code = station.terminate()
    check("exit code when told to end", "0 or 143", code, code in (0, 143))
    viewer.join(10)

    truth = cells.truth()
    links = {event["link"]: event for event in viewer.of("link")}
    channels = viewer.of("channels")[-1]["channels"]
    judge_losses(check, rows, truth, links, channels, metrics, viewer)
    (recording,) = recordings(data)
    summary = judge_contractions(check, truth, channels, viewer, recording)
    judge_recording(check, data, recording, viewer)
    check("resident memory at the end, MB", "under 250", round(resident), resident < 250)
    return rows, summary


def judge_losses(check, rows, truth, links, channels, metrics, viewer):
    before = metrics["heldmark_samples_before_describe_total"]
    # On a busy machine the viewer may be too slow for every sample: then it gets minima and maxima, and must be told.
    reduced = round(metrics["heldmark_viewers_reduced_total"])
    told = sum(1 for event in viewer.of("viewer") if event["delivery"] == "reduced")
    check("times the viewer was reduced to minima and maxima, and told", reduced, told, told == reduced)
    by_cell = {}
    for channel in channels:
        cell = next(c for c in truth["cells"] if c["deviceId"] == channel["deviceId"])
        by_cell[cell["cell"]] = channel
        link = links[channel["link"]]
        rows += account(cell, link, before)
        for key, name in SHOWN.items():
            value = metrics['heldmark_link_%s_total{link="%s"}' % (name, channel["link"])]
            if value != link[key]:
                check(f"{cell['cell']}: {key} shown to the viewer as in /metrics", value, link[key], False)
        if reduced == 0:
            shown = viewer.samples.get(channel["channel"], 0)
            check(f"{cell['cell']}: samples sent to the viewer", link["samples"], shown, shown == link["samples"])
    for name in ("input_chunks_dropped", "recorder_chunks_lost", "recorder_events_lost", "listener_faults",
                 "processing_faults", "viewer_samples_skipped"):
        value = metrics[f"heldmark_{name}_total"]
        check(name.replace("_", " "), 0, round(value), value == 0)


def judge_contractions(check, truth, channels, viewer, recording):
    anchor = next(packets(recording))[0]
    shift_s = (anchor - truth["startUnixNs"]) * 1e-9
    zeros = {z["channel"]: z["atS"] + shift_s for z in viewer.of("zero") if z["state"] == "taken"}
    summary, errors, clean, touched = [], [], 0, 0
    for cell in truth["cells"]:
        channel = next(c["channel"] for c in channels if c["deviceId"] == cell["deviceId"])
        found = []
        for event in viewer.of("contraction"):
            if event["revision"] == "final" and event["channel"] == channel:
                found.append(dict(event, onsetS=event["onsetS"] + shift_s, offsetS=event["offsetS"] + shift_s))
        check(f"{cell['cell']}: zero taken", "yes", "yes" if channel in zeros else "no", channel in zeros)
        judged = Contractions(cell, found, zeros.get(channel, 0) + 0.5)
        check(f"{cell['cell']}: whole contractions found once, onset within 35 ms", judged.clean,
              judged.clean if not judged.misses else "; ".join(judged.misses), not judged.misses and judged.clean > 2)
        errors += judged.errors
        clean += judged.clean
        touched += judged.touched
    worst = max(map(abs, errors), default=float("nan"))
    mean = sum(map(abs, errors)) / max(1, len(errors))
    summary = (f"{clean} whole contractions, {touched} touched by damage; onset error mean {1e3 * mean:.1f} ms, "
               f"worst {1e3 * worst:.1f} ms")
    return summary


def judge_recording(check, data, recording, viewer):
    code, lines, _ = run("recordings", "--json", "--data", data)
    complete = code == 0 and json.loads(lines[0])["complete"]
    check("recording complete", "yes", "yes" if complete else "no", complete)
    first = run("replay", recording, "--json")
    second = run("replay", recording, "--json")
    check("two replays print the same lines", "yes", "yes" if first[1] == second[1] else "no", first[1] == second[1])
    live = [event for event in viewer.events if is_result(event)]
    again = [event for event in first[1] if is_result(event)]
    same = live == again[: len(live)] and len(again) - len(live) <= 2
    check("results live and by replay, letter for letter", len(live), len(again) if same else "they differ", same)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", type=int)
    parser.add_argument("--runs", type=int, default=1, help="runs with the seeds that follow")
    args = parser.parse_args()
    bad = 0
    for number in range(args.runs):
        seed = args.seed if number == 0 else (args.seed or 0) + number
        with tempfile.TemporaryDirectory() as folder:
            rows, summary = fault_run(pathlib.Path(folder), seed)
        print(f"seed {'of the scenario' if seed is None else seed}\n")
        table(rows)
        print(f"\n{summary}\n", flush=True)
        bad += sum(1 for row in rows if not row[3])
    print("no miss" if bad == 0 else f"{bad} misses")
    sys.exit(1 if bad else 0)


main()
