"""The real programs, started as a person starts them, for whole-process runs. Standard library only."""

import json
import os
import pathlib
import signal
import socket
import struct
import subprocess
import sys
import threading
import time
import urllib.request

ROOT = pathlib.Path(__file__).resolve().parents[3]
HELDMARK = ROOT / "heldmark"


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def run(*arguments):
    """Runs a command to its end; returns exit code, output lines and error text."""
    done = subprocess.run([HELDMARK, *map(str, arguments)], capture_output=True, text=True)
    return done.returncode, done.stdout.splitlines(), done.stderr


class Cells:
    """`heldmark simulate`: each cell a pseudo-terminal under a path that stays."""

    def __init__(self, folder, scenario, *options):
        self.truth_file = folder / "truth.json"
        self.process = subprocess.Popen(
            [HELDMARK, "simulate", scenario, "--link", "pty", "--pty-dir", folder / "ports", "--truth", self.truth_file,
             "--exit-with-stdin", *map(str, options)],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.links = {}
        while len(self.links) < 2:
            line = self.process.stdout.readline()
            if not line:
                sys.exit("the simulated cells did not start")
            if line.startswith("{"):
                cell = json.loads(line)
                self.links[cell["cell"]] = cell["link"]
        threading.Thread(target=self.process.stdout.read, daemon=True).start()

    def wait(self, seconds):
        return self.process.wait(seconds)

    def stop(self):
        if self.process.poll() is None:
            self.process.stdin.close()
            self.process.wait(20)

    def truth(self):
        return json.loads(self.truth_file.read_text())


class Daemon:
    """`heldmark serve` on two cells, recording."""

    def __init__(self, data, links):
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        arguments = ["serve", "--port", self.port, "--no-browser", "--data", data, "--invented", "--zero-when-quiet"]
        for name, link in links.items():
            arguments += [f"--{name}", link]
        self.process = subprocess.Popen(
            [HELDMARK, *map(str, arguments)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def get(self, path):
        with urllib.request.urlopen(self.url + path, timeout=5) as answer:
            return answer.read().decode()

    def healthy(self):
        try:
            return self.process.poll() is None and json.loads(self.get("/healthz"))["status"] == "ok"
        except OSError:
            return False

    def wait_until_healthy(self, seconds=300):
        end = time.monotonic() + seconds
        while not self.healthy():
            if time.monotonic() > end or self.process.poll() is not None:
                sys.exit("the station did not start to serve")
            time.sleep(0.1)

    def metrics(self):
        """Returns /metrics as {name with labels: value}."""
        found = {}
        for line in self.get("/metrics").splitlines():
            if line and not line.startswith("#"):
                key, value = line.rsplit(" ", 1)
                found[key] = float(value)
        return found

    def resident_mb(self):
        status = pathlib.Path(f"/proc/{self.process.pid}/status").read_text()
        return int(status.split("VmRSS:")[1].split()[0]) / 1024

    def terminate(self):
        """Ends it as Ctrl-C or the system does; returns the exit code."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(30)

    def kill(self):
        """SIGKILL; returns the wall-clock time right before it, in nanoseconds."""
        at_ns = time.time_ns()
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait(30)
        return at_ns


def recordings(data):
    return sorted(pathlib.Path(data).rglob("*.pcapng"))


def packets(file):
    """Yields (wall-clock time in ns, interface, bytes) of every whole packet of a recording, and first (anchor, -1, b"").

    Reads the format from docs/recording-format.md and nothing of the station's own code.
    """
    data = file.read_bytes()
    at = 0
    while at + 12 <= len(data):
        kind, length = struct.unpack_from("<II", data, at)
        if length < 12 or at + length > len(data):
            return
        if kind == 0x0A0D0D0A:
            yield anchor(data, at), -1, b""
        elif kind == 6:
            interface, high, low, size = struct.unpack_from("<IIII", data, at + 8)
            yield high << 32 | low, interface, data[at + 28 : at + 28 + size]
        at += length


def anchor(data, at):
    option = at + 24
    while True:
        code, size = struct.unpack_from("<HH", data, option)
        if code == 1:
            return json.loads(data[option + 4 : option + 4 + size])["wallAnchorNs"]
        if code == 0:
            sys.exit("the section header has no facts")
        option += 4 + (size + 3) // 4 * 4


def table(rows):
    print("| what | expected | found | |\n|---|---|---|---|")
    for name, expected, found, good in rows:
        print(f"| {name} | {expected} | {found} | {'' if good else 'MISS'} |")
