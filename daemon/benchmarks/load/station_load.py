#!/usr/bin/python3
"""Whole-process load of the station beside a stated peer, in one run.

Both read the same simulated cells through real pseudo-terminals and serve the same number of WebSocket clients. The
station decodes, aligns, calibrates, filters, detects, measures, records and broadcasts; the peer (peer_station.py, what
a lab writes for itself) only filters and broadcasts. CPU and memory are the kernel's own figures of each process.

    station_load.py [--scenario demo] [--viewers 4] [--warm-up 30] [--seconds 60] [--no-peer] [--browser]

Needs Debian's python3-serial, python3-scipy, python3-websockets; --browser also Chromium and viewer-web's node modules.
Prints a table in Markdown and, last, one JSON line with every figure.
"""

import argparse
import json
import os
import pathlib
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[2]
TICKS_PER_S = os.sysconf("SC_CLK_TCK")


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def cpu_s(pid):
    fields = pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / TICKS_PER_S


def memory_mb(pid, key):
    text = pathlib.Path(f"/proc/{pid}/status").read_text()
    return int(re.search(rf"{key}:\s+(\d+) kB", text).group(1)) / 1024


def start_cells(scenario):
    cells = subprocess.Popen(
        [ROOT / "heldmark", "simulate", scenario, "--link", "pty", "--exit-with-stdin"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    links = {}
    wanted = count_cells(scenario)
    for line in cells.stdout:
        if line.startswith("{"):
            cell = json.loads(line)
            links[cell["cell"]] = cell["link"]
        if len(links) == wanted:
            return cells, links
    sys.exit("the simulator ended before it opened its links")


def count_cells(scenario):
    path = ROOT / "simulators" / "scenarios" / f"{scenario}.yaml"
    text = pathlib.Path(path if path.exists() else scenario).read_text()
    section = re.search(r"^cells:\n((?:[ #].*\n|\n)*)", text, re.MULTILINE)
    return len(re.findall(r"^  - ", section.group(1), re.MULTILINE)) if section else 1


def start_station(links, port, data):
    args = [ROOT / "heldmark", "serve", "--port", str(port), "--no-browser", "--data", data, "--zero-when-quiet"]
    for name, link in links.items():
        args += ["--left" if name == "left" else "--right" if name == "right" else "--link", link]
    return subprocess.Popen(args, stdout=subprocess.DEVNULL)


def wait_for(url, seconds=90):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        try:
            return urllib.request.urlopen(url, timeout=2).read().decode()
        except OSError:
            time.sleep(0.2)
    sys.exit(f"nothing answers at {url}")


def measure(process, url, args):
    """CPU share of one core and memory of a process over the measured seconds, with its viewers connected."""
    viewers = subprocess.Popen(
        [HERE / "socket_viewer.py", url, str(args.viewers), str(args.warm_up + args.seconds + 2)],
        stdout=subprocess.PIPE, text=True)
    time.sleep(args.warm_up)
    cpu_before, t_before = cpu_s(process.pid), time.monotonic()
    peak = 0.0
    while time.monotonic() - t_before < args.seconds:
        time.sleep(1)
        peak = max(peak, memory_mb(process.pid, "VmRSS"))
    share = 100 * (cpu_s(process.pid) - cpu_before) / (time.monotonic() - t_before)
    seen = json.loads(viewers.communicate()[0])
    return {"cpuPercentOfOneCore": round(share, 2), "residentMbMax": round(peak, 1), "viewers": seen}


def metric(text, name):
    found = {}
    for line in text.splitlines():
        if line.startswith(name):
            key, value = line.rsplit(" ", 1)
            found[key] = float(value)
    return found


def stop(process):
    if process.poll() is None:
        process.send_signal(signal.SIGTERM)
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()


def run_station(args, result):
    cells, links = start_cells(args.scenario)
    browser = None
    with tempfile.TemporaryDirectory() as data:
        port = free_port()
        station = start_station(links, port, data)
        try:
            wait_for(f"http://127.0.0.1:{port}/healthz")
            if args.browser:
                seconds = str(args.warm_up + args.seconds + 2)
                browser = subprocess.Popen(["node", HERE / "browser_viewer.mjs", f"http://127.0.0.1:{port}/", seconds])
            result["station"] = measure(station, f"ws://127.0.0.1:{port}/ws/live", args)
            metrics = wait_for(f"http://127.0.0.1:{port}/metrics")
            for name in ("heldmark_arrival_to", "heldmark_dropped", "heldmark_lost", "heldmark_link"):
                result["station"].update(metric(metrics, name))
            if browser:
                browser.wait(60)
        finally:
            stop(station)
            stop(cells)


def run_peer(args, result):
    cells, links = start_cells(args.scenario)
    port = free_port()
    peer = subprocess.Popen(
        [HERE / "peer_station.py", str(port)] + [re.sub(r"^serial:|\?.*$", "", link) for link in links.values()],
        stdout=subprocess.PIPE, text=True)
    try:
        peer.stdout.readline()
        result["peer"] = measure(peer, f"ws://127.0.0.1:{port}", args)
    finally:
        stop(peer)
        stop(cells)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--scenario", default="demo")
    parser.add_argument("--viewers", type=int, default=4)
    parser.add_argument("--warm-up", type=float, default=30)
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--no-peer", action="store_true")
    parser.add_argument("--browser", action="store_true")
    args = parser.parse_args()
    result = {"scenario": args.scenario, "viewers": args.viewers, "seconds": args.seconds}
    run_station(args, result)
    print(json.dumps(result), file=sys.stderr, flush=True)
    if not args.no_peer:
        run_peer(args, result)
    print("| process | CPU, % of one core | resident, MB |\n|---|---|---|")
    for who in ("station", "peer"):
        if who in result:
            print(f"| {who} | {result[who]['cpuPercentOfOneCore']} | {result[who]['residentMbMax']} |")
    if "peer" in result:
        ratio = [result["station"][key] / result["peer"][key] for key in ("cpuPercentOfOneCore", "residentMbMax")]
        print(f"| ratio station / peer | {ratio[0]:.2f} | {ratio[1]:.2f} |")
    print(json.dumps(result))


main()
