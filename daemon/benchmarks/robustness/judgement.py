"""What a simulated cell says it did against what the station says it saw. The same rules as FaultRunTest, written anew.

Times are seconds of true time. A span is (from, to).
"""

LONG_S = 0.1  # samples missing for longer are a damaged span
ONSET_LIMIT_S = 0.035  # largest error of an onset where nothing is missing
RISE_S = 0.1  # the stretch behind an onset from which it is worked out
MARGIN_S = 0.3  # a contraction nearer to a damaged span is touched by it
RETURN_S = 2.5  # after a break: found again (back-off), asked who is there, told to start; each may be lost and said again
EXCUSES = {"gap-inside", "onset-not-seen", "samples-lost", "adc-fault", "clock-restarted"}
BYTES_PER_SAMPLE = 4.3  # ten samples of three bytes in a message of 43


def meets(a, b):
    return a[0] <= b[1] and a[1] >= b[0]


def count(cell, kind, messages=True):
    entries = [d for d in cell["damage"] if d["kind"] == kind and (d["messages"] > 0) == messages]
    return len([d for d in entries if kind != "corruption" or d["bytes"] > 0])


def gaps(cell):
    """Stretches without samples, joined where they touch."""
    lost = [(d["fromS"], d["toS"]) for d in cell["damage"]
            if d["kind"] == "unread" or (d["lostSamples"] > 0 and d["kind"] != "adc-fault")]
    joined = []
    for span in sorted(lost):
        if joined and span[0] - joined[-1][1] < 0.002:
            joined[-1] = (joined[-1][0], max(joined[-1][1], span[1]))
        else:
            joined.append(span)
    return joined


def damaged_spans(cell):
    spans = []
    for d in cell["damage"]:
        if d["kind"] in ("disconnect", "reboot"):
            spans.append((d["fromS"], d["toS"] + RETURN_S))
        elif d["kind"] in ("clock-step", "adc-fault"):
            spans.append((d["fromS"], d["toS"]))
    return spans + [gap for gap in gaps(cell) if gap[1] - gap[0] > LONG_S]


def lost_messages(cell):
    return [d for d in cell["damage"] if d["messages"] > 0 and d["lostSamples"] > 0]


def uncountable(cell):
    """Samples lost right beside a jump or a restart of the clock: neither tick nor sequence tells their number."""
    found = set()
    lost = lost_messages(cell)

    def run(sequence, step, near_s):
        while True:
            hits = [i for i, d in enumerate(lost) if d["sequence"] == sequence & 0xFFFF and abs(d["fromS"] - near_s) < 5
                    and (d["fromS"] >= near_s - 1e-3 if step > 0 else d["fromS"] < near_s)]
            if not hits:
                return
            found.update(hits)
            sequence += step

    for event in cell["damage"]:
        if event["kind"] in ("clock-step", "reboot"):
            run(event["sequence"] - 1, -1, event["fromS"])
            run(0 if event["kind"] == "reboot" else event["sequence"], 1, event["toS"])
    return sum(lost[i]["lostSamples"] for i in found)


def account(cell, link, before_describe):
    """Rows (what, expected, found, good) of one cell; `link` is its last `link` event."""
    name = cell["cell"] + ": "
    damaged = sum(d["lostSamples"] for d in lost_messages(cell))
    unread = sum(d["bytes"] for d in cell["damage"] if d["kind"] == "unread") / BYTES_PER_SAMPLE
    in_device = sum(d["lostSamples"] for d in cell["damage"] if d["kind"] == "device-loss")
    unsure = sum(d["lostSamples"] for d in cell["damage"] if d["kind"] == "corruption" and d["bytes"] == 0)
    unsure += 20 + 0.15 * unread + before_describe
    samples = round(cell["samplesTaken"] - damaged - unread)
    lost = round(damaged + in_device + unread - uncountable(cell))
    restarts = len(cell["clock"]["segments"]) - 1
    spoilt = count(cell, "corruption") + count(cell, "garbage")
    garbage = sum(d["bytes"] for d in cell["damage"] if d["kind"] == "garbage")

    def row(what, expected, key, below, above):
        return name + what, expected, link[key], expected - below <= link[key] <= expected + above

    return [
        row("samples that arrived", samples, "samples", unsure, unsure),
        row("samples lost", lost, "lostSamples", unsure, unsure),
        row("messages doubled", count(cell, "duplicate"), "duplicates", 2, 0),
        row("messages late", sum(1 for d in cell["damage"] if d["kind"] == "reorder" and d["lostSamples"] > 0),
            "reordered", 3, 0),
        row("checks failed (messages changed, garbage)", spoilt, "crcFailures", spoilt / 4, spoilt),
        (name + "bytes skipped (garbage at least)", garbage, link["skippedBytes"], link["skippedBytes"] >= garbage),
        row("links broken and back", count(cell, "disconnect", False), "reconnects", 0, 0),
        row("clock steps and reboots", restarts, "clockRestarts", 0, 2),
    ]


class Contractions:
    """Contractions found on one channel against the true ones."""

    def __init__(self, cell, found, from_s):
        self.misses = []
        self.errors = []
        self.clean = self.touched = 0
        self.cell = cell
        self.gaps = gaps(cell)
        until_s = cell["untilS"] - 1
        all_true = [t for t in cell["channels"][0]["contractions"] if t["complete"]]
        parts = {t["id"]: [] for t in all_true}
        for c in found:
            self.attribute(c, all_true, parts)
        damaged = damaged_spans(cell)
        for t in all_true:
            if t["onsetS"] < from_s or t["offsetS"] > until_s:
                continue
            around = (t["onsetS"] - MARGIN_S, t["offsetS"] + MARGIN_S)
            if any(meets(d, around) for d in damaged):
                self.touched += 1
                for c in parts[t["id"]]:
                    self.judge_touched(t, c)
            else:
                self.clean += 1
                self.judge_whole(t, parts[t["id"]])

    def miss(self, text):
        self.misses.append(f"{self.cell['cell']}: {text}")

    def attribute(self, c, all_true, parts):
        for t in all_true:
            if c["onsetS"] < t["offsetS"] and c["offsetS"] > t["onsetS"]:
                parts[t["id"]].append(c)
                return
        if not all_true or c["onsetS"] < all_true[-1]["offsetS"]:
            self.miss(f"nobody pulled at {c['onsetS']:.2f} s: {flags(c)}")

    def judge_whole(self, t, own):
        name = f"contraction of {t['onsetS']:.2f} to {t['offsetS']:.2f} s"
        if len(own) != 1:
            self.miss(f"{name} found {len(own)} times")
            return
        c = own[0]
        common = min(t["offsetS"], c["offsetS"]) - max(t["onsetS"], c["onsetS"])
        both = max(t["offsetS"], c["offsetS"]) - min(t["onsetS"], c["onsetS"])
        error = c["onsetS"] - t["onsetS"]
        self.errors.append(error)
        about = (t["onsetS"] - ONSET_LIMIT_S, t["onsetS"] + RISE_S)
        missing = sum(g[1] - g[0] for g in self.gaps if meets(g, about))
        if common < 0.5 * both or abs(error) > ONSET_LIMIT_S + missing:
            self.miss(f"{name} found as {c['onsetS']:.3f} to {c['offsetS']:.3f} s, {flags(c)}")
        inside = (c["onsetS"] + 0.02, c["offsetS"] - 0.02)
        if any(meets(g, inside) for g in self.gaps) and "gap-inside" not in flags(c):
            self.miss(f"{name} has samples missing and does not say so: {flags(c)}")

    def judge_touched(self, t, c):
        whole = abs(c["onsetS"] - t["onsetS"]) < 2 * ONSET_LIMIT_S and abs(c["offsetS"] - t["offsetS"]) < 0.2
        if not whole and not EXCUSES & flags(c):
            self.miss(f"a piece at {c['onsetS']:.2f} s does not say why: {flags(c)}")


def flags(contraction):
    return {flag["id"] for flag in contraction["flags"]}
