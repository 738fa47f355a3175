"""Cases of the sequence rules, for a binding given by its function from message to wire bytes."""

from messages import MINIMAL, samples
from vector import Vector


def one(sequence, tick):
    return samples(sequence, tick, [[sequence % 100]])


def sequence_cases(wire):
    """Each row: name, why, and steps (sequence, tick, counters of a dropped or noted message, taken or not)."""
    describe = "describe"
    rows = [
        ("sequence-wrap", "65535 to 0 is in order", [(65534, 10), (65535, 20), (0, 30), (1, 40)]),
        ("tick-wrap", "the tick wraps between two messages", [(7, 4294967290), (8, 4)]),
        ("gap", "2 to 4 are missing", [(1, 10), (5, 50, {"gaps": 1, "missingFrames": 3})]),
        ("gap-over-wrap", "65535 and 0 are missing", [(65534, 10), (1, 40, {"gaps": 1, "missingFrames": 2})]),
        ("gap-64", "64 forward is a gap whatever the tick says",
         [(0, 5000), (64, 10, {"gaps": 1, "missingFrames": 63})]),
        ("gap-65", "65 forward with the tick forward is a gap", [(0, 10), (65, 650, {"gaps": 1, "missingFrames": 64})]),
        ("gap-largest", "32767 forward with the tick forward is a gap",
         [(0, 10), (32767, 11, {"gaps": 1, "missingFrames": 32766})]),
        ("restart-forward", "65 forward with the tick back is a restart", [(0, 5000), (65, 10, {"restarts": 1})]),
        ("restart-forward-same-tick", "65 forward with the tick standing is a restart",
         [(0, 10), (65, 10, {"restarts": 1})]),
        ("duplicate", "the same message twice", [(3, 30), (3, 30, {"duplicates": 1}, False), (4, 40)]),
        ("duplicate-twice", "the same message three times, in between counted as two duplicates",
         [(3, 30), (3, 30, {"duplicates": 1}, False), (3, 30, {"duplicates": 1}, False), (4, 40)]),
        ("restart-same-number", "the same number at another tick is a restart", [(0, 900), (0, 10, {"restarts": 1})]),
        ("reorder", "4 arrives after 5: one missing, one late",
         [(3, 30), (5, 50, {"gaps": 1, "missingFrames": 1}), (4, 40, {"reordered": 1}, False), (6, 60)]),
        ("late-64", "64 back is late", [(100, 1000), (36, 360, {"reordered": 1}, False), (101, 1010)]),
        ("restart-65", "65 back is a restart", [(100, 1000), (35, 350, {"restarts": 1}), (36, 360)]),
        ("restart-far", "a reboot at message 20000", [(20000, 9000), (0, 10, {"restarts": 1}), (1, 20)]),
        ("restart-opposite", "32768 is as far back as a number can be", [(0, 10), (32768, 20, {"restarts": 1})]),
        ("late-over-wrap", "65535 after 0 is late",
         [(65534, 10), (0, 30, {"gaps": 1, "missingFrames": 1}), (65535, 20, {"reordered": 1}, False)]),
        ("clock-step", "in order though the tick went back", [(1, 5000), (2, 10), (3, 20)]),
        ("describe-reboot", "a describe tells a restart that the numbers alone do not",
         [(30, 3000), describe, (0, 10, {"restarts": 1}), (1, 20)]),
        ("describe-reboot-near-wrap", "after a describe a step forward with the tick back is a restart",
         [(65530, 3000), describe, (0, 10, {"restarts": 1})]),
        ("describe-reboot-far-forward", "after a describe a large step forward is a restart",
         [(40000, 10), describe, (0, 3000, {"restarts": 1})]),
        ("describe-asked", "a describe that was only asked for changes nothing",
         [(30, 3000), describe, (31, 3100), (33, 3300, {"gaps": 1, "missingFrames": 1})]),
        ("describe-gap", "a small gap over a describe is a gap",
         [(30, 3000), describe, (33, 3300, {"gaps": 1, "missingFrames": 2})]),
        ("describe-duplicate", "a duplicate stays one after a describe",
         [(30, 3000), describe, (30, 3000, {"duplicates": 1}, False), (29, 2900, {"restarts": 1})]),
        ("describe-once", "the describe holds for one message only",
         [(30, 3000), describe, (31, 3100), (30, 3000, {"reordered": 1}, False)]),
    ]
    return [case(wire, *row) for row in rows]


def case(wire, name, why, steps):
    v = Vector(name, why)
    for step in steps:
        if step == "describe":
            v.use(wire(MINIMAL), MINIMAL)
            continue
        sequence, tick, counters, taken = (*step, {}, True)[:4] if len(step) == 2 else (*step, True)[:4]
        message = one(sequence, tick)
        if taken:
            v.use(wire(message), message, **counters)
        else:
            v.drop(wire(message), **counters)
    return v
