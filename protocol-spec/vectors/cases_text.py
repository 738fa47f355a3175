"""Cases of the text binding."""

import copy

from cases_sequence import sequence_cases
from gaugeline import describe_lines, f32, line, text_lines
from messages import COMMANDS, EIGHT, FULL, MINIMAL, PINGS, PONGS, REPLIES, STATUS_EDGES, STATUS_FULL, \
    STATUS_UNKNOWN, samples, unknown
from vector import Vector

A = samples(1, 100, [[11]])
B = samples(2, 200, [[-22]])
LEAST = b"D,1.0,id=bench-1,tickhz=1000000,ratemhz=80000\nC,0,bits=10\nE\n"
BAD = {"malformed": 1}


def wire(m):
    return text_lines(m)


def good(name, why, *messages, checks=True):
    v = Vector(name, why).canonical(checks=checks)
    for m in messages:
        v.use(text_lines(m, checks), m)
    return v


def message_cases():
    for checks in (True, False):
        mark = "" if checks else "-unchecked"
        yield good("describe-minimal" + mark, "id and one channel", MINIMAL, checks=checks)
        yield good("describe-full" + mark, "every key", FULL, checks=checks)
        yield good("describe-8-channels" + mark, "the most channels", EIGHT, checks=checks)
        yield good("samples" + mark, "one, two and eight channels, extreme counts", A,
                   samples(2, 4294967295, [[-2147483648, 2147483647]]),
                   samples(3, 0, [[-8388608, 8388607, 0, -1, 1, 10, -10, 100]], status=7), checks=checks)
        yield good("status" + mark, "all known, all unknown, edges", STATUS_FULL, STATUS_UNKNOWN, STATUS_EDGES,
                   checks=checks)
        yield good("commands" + mark, "every opcode and a private one", *COMMANDS, checks=checks)
        yield good("replies" + mark, "several results, with and without data", *REPLIES, checks=checks)
        yield good("ping-pong" + mark, "edges, and a tick that wraps between", *PINGS, *PONGS, checks=checks)
    longest = {"type": "command", "opcode": 200, "token": 255, "arguments": "ab" * 90}
    yield good("command-90-bytes", "the most arguments", longest)


def form_cases():
    a, b = wire(A), wire(B)
    yield Vector("the-least", "the smallest sender: no checks, E without a number").use(LEAST, MINIMAL).use(
        b"S,0,5,,512\n", samples(0, 5, [[512]])).use(b"S,1,12505,,513\n", samples(1, 12505, [[513]]))
    yield Vector("crlf", "a CR before the LF is ignored, with and without check").use(
        a[:-1] + b"\r\n", A).use(b"S,2,200,,-22\r\n", B)
    yield Vector("cr-alone", "a CR elsewhere is not printable").skip(b"S,1,100,\r,11\n", **BAD).skip(
        b"S,1,100,,11\r\r\n", **BAD).use(b, B)
    yield Vector("empty-lines", "ignored").idle(b"\n\r\n\n").use(a, A).idle(b"\r\n").use(b, B)
    yield Vector("remarks", "ignored, whatever they look like").idle(
        b"# boot 1.2, cause=3 *0000\n").use(a, A).idle(b"#\r\n#S,1,1,,1*AB\n").use(b, B)
    yield Vector("mixed-checks", "a line without a check between lines with one").use(a, A).use(b"S,2,200,,-22\n", B)
    yield Vector("pending", "the last line has not ended").use(a, A).pending(b[:-1])
    yield Vector("line-200", "the longest line, with LF and with CR LF").idle(
        b"#" * 200 + b"\n").idle(b"#" * 200 + b"\r\n").use(a, A)
    yield Vector("oversized-201", "one byte more, with LF and with CR LF").skip(
        b"#" * 201 + b"\n", oversized=1).skip(b"#" * 201 + b"\r\n", oversized=1).use(a, A)
    yield Vector("oversized-junk", "1000 bytes without a line feed").skip(b"U" * 1000 + b"\n", oversized=1).use(a, A)
    for name, text in (("tab", b"S,1,100,\t,11\n"), ("nul", b"S,1,100,,11\x00\n"), ("high", b"S,1,100,,\xb11\n"),
                       ("delete", b"# P\x7f\n"), ("remark-not-ascii", b"# \xc3\xa4\n")):
        yield Vector("unprintable-" + name, "not printable ASCII").skip(text, **BAD).use(a, A)
    yield Vector("garbage-into-line", "noise without a line feed costs the line that it runs into").skip(
        b"\xfe\x81\x00" + a, **BAD).use(b, B)
    yield Vector("delimiter-lost", "two lines run into one, with two asterisks").skip(
        a[:-1] + b, **BAD).use(wire(samples(3, 300, [[33]])), samples(3, 300, [[33]]))


def check_cases():
    a, b = wire(A), wire(B)
    yield Vector("check-wrong", "one digit changed").skip(a.replace(b"11", b"12"), crcFailures=1).use(b, B)
    yield Vector("check-lower-case", "capital letters only").skip(b"P,1*" + b"abcd\n", **BAD).use(a, A)
    for name, text in (("3-digits", b"P,1*123\n"), ("5-digits", b"P,1*12345\n"), ("none", b"P,1*\n"),
                       ("not-hex", b"P,1*12G4\n"), ("space", b"P,1*1234 \n")):
        yield Vector("check-" + name, "a * is followed by exactly four hex digits").skip(text, **BAD).use(a, A)
    yield Vector("check-twice", "a * inside a line that has a good check").skip(line("P,1*0000"), **BAD).use(a, A)
    yield Vector("check-star-in-value", "nor inside a value").skip(
        line(HEAD + ",model=a*b") + line(CHANNEL) + line("E"), malformed=3).use(a, A)
    yield Vector("check-alone", "a good check over nothing").skip(b"*FFFF\n", **BAD).use(a, A)


def field_cases():
    rows = [
        ("samples-no-counts", "S,1,100,"), ("samples-no-status", "S,1,100"), ("samples-letter-only", "S"),
        ("samples-count-empty", "S,1,100,,"), ("samples-count-empty-2", "S,1,100,,1,"),
        ("samples-9-channels", "S,1,100,,1,2,3,4,5,6,7,8,9"), ("samples-sequence-65536", "S,65536,100,,1"),
        ("samples-sequence-negative", "S,-1,100,,1"), ("samples-sequence-empty", "S,,100,,1"),
        ("samples-tick-2-32", "S,1,4294967296,,1"), ("samples-tick-huge", "S,1,99999999999999999999999999,,1"),
        ("samples-tick-negative", "S,1,-100,,1"), ("samples-status-8", "S,1,100,8,1"),
        ("samples-status-word", "S,1,100,ok,1"), ("samples-count-2-31", "S,1,100,,2147483648"),
        ("samples-count-below", "S,1,100,,-2147483649"), ("samples-count-plus", "S,1,100,,+5"),
        ("samples-count-decimal", "S,1,100,,1.5"), ("samples-count-hex", "S,1,100,,0x10"),
        ("samples-count-space", "S,1,100,, 5"), ("samples-count-two-signs", "S,1,100,,--5"),
        ("samples-count-sign-only", "S,1,100,,-"), ("letter-small", "s,1,100,,1"), ("letter-two", "SS,1,100,,1"),
        ("letter-digit", "1,1,100,,1"), ("letter-missing", ",1,100,,1"), ("prose", "Hello, world"),
        ("status-cut", "H,1,50,20.0,0,0"), ("status-charge-101", "H,1,101,,0,0,0"),
        ("status-charge-negative", "H,1,-1,,0,0,0"), ("status-temperature-2-decimals", "H,1,,20.25,0,0,0"),
        ("status-temperature-point", "H,1,,20.,0,0,0"), ("status-temperature-bare-point", "H,1,,.5,0,0,0"),
        ("status-temperature-high", "H,1,,3276.8,0,0,0"), ("status-temperature-high-whole", "H,1,,3277,0,0,0"), ("status-faults-65536", "H,1,,,65536,0,0"),
        ("status-tick-empty", "H,,,,0,0,0"), ("reply-cut", "R,1,0"), ("reply-result-256", "R,1,0,256"),
        ("reply-data-odd", "R,1,0,0,ABC"), ("reply-data-small", "R,1,0,0,ab"), ("reply-data-not-hex", "R,1,0,0,XY"),
        ("command-cut", "Q,1"), ("command-arguments-91", "Q,1,1," + "00" * 91), ("pong-cut", "O,1,2"),
        ("pong-id-65536", "O,65536,1,2"), ("ping-cut", "P"), ("ping-empty", "P,"), ("ping-word", "P,one"),
    ]
    for name, text in rows:
        yield Vector(name, "malformed: " + text[:40]).skip(line(text, False), **BAD).skip(line(text), **BAD).use(wire(A), A)


def odd_but_good_cases():
    yield Vector("leading-zeros", "allowed").use(b"S,00001,0000000100,0,011\n", A).use(
        b"S,2,200,0,-0022\n", B)
    yield Vector("minus-zero", "is zero").use(b"S,1,100,,-0\n", samples(1, 100, [[0]]))
    yield Vector("status-empty-fields", "unknown or 0").use(b"H,1,,,,,\n", {**STATUS_UNKNOWN, "tick": 1})
    yield Vector("status-whole-degrees", "no decimal, minus, minus zero").use(
        b"H,1,5,21,0,0,0\n", status(1, 5, 21.0)).use(b"H,2,5,-21,0,0,0\n", status(2, 5, -21.0)).use(
        b"H,3,5,-0.0,0,0,0\n", status(3, 5, 0.0)).use(b"H,4,5,-3276.7,0,0,0\n", status(4, 5, -3276.7)).use(
        b"H,5,5,-0.5,0,0,0\n", status(5, 5, -0.5))
    yield Vector("later-fields", "ignored behind H, R, O, Q, P").use(
        b"H,1,5,21,0,0,0,new,7\n", status(1, 5, 21.0)).use(b"R,1,2,0,,later\n", REPLY).use(
        b"R,1,2,0,AB,later\n", {**REPLY, "data": "ab"}).use(b"O,1,2,3,4\n", PONG).use(
        b"Q,1,2,,x\n", {"type": "command", "opcode": 1, "token": 2}).use(b"P,7,8\n", {"type": "ping", "pingId": 7})
    yield Vector("unknown-letters", "ignored and counted, with and without fields and check").use(
        b"X,1,2\n", unknown(88, 5)).use(b"Z\n", unknown(90, 1)).use(line("A,"), unknown(65, 2)).use(wire(A), A)


REPLY = {"type": "reply", "opcode": 1, "token": 2, "result": 0}
PONG = {"type": "pong", "pingId": 1, "receivedTick": 2, "transmittedTick": 3}


def status(tick, charge, temperature):
    return {"type": "status", "tick": tick, "batteryPercent": charge, "temperatureC": temperature,
            "adcFaultCount": 0, "lostSampleCount": 0, "rejectedFrameCount": 0}


HEAD = "D,1.0,id=bench-1,tickhz=1000000,ratemhz=80000"
CHANNEL = "C,0,bits=10"


def block(*lines):
    return b"".join(line(x, False) for x in lines)


def minimal(channel=None, **changes):
    m = copy.deepcopy(MINIMAL)
    m.update(changes)
    m["channels"][0].update(channel or {})
    return m


def describe_good_cases():
    def good_block(name, why, message, *lines):
        return Vector(name, why).use(block(*lines), message).use(wire(A), A)

    calibration = {"zeroCounts": -5, "newtonPerCount": f32(0.1)}
    yield good_block("describe-line-count", "E with the number of lines", MINIMAL, HEAD, CHANNEL, "E,1")
    yield good_block("describe-line-count-later", "and a later field", MINIMAL, HEAD, CHANNEL, "E,1,new")
    yield good_block("describe-unknown-keys", "skipped, also private ones", MINIMAL,
                     "D,1.0,x-colour=red,ratemhz=80000,newkey=,tickhz=1000000,id=bench-1", "C,0,x-a=1,bits=10", "E,1")
    yield good_block("describe-empty-values", "as if absent", MINIMAL, HEAD + ",model=,caps=,rates=",
                     CHANNEL + ",name=,gain=", "E")
    yield good_block("describe-minor-12", "a later minor version", minimal(version="1.12"),
                     HEAD.replace("1.0", "1.12"), CHANNEL, "E")
    yield good_block("describe-calibration-first", "K before its C", minimal({"calibration": calibration}), HEAD,
                     "K,0,slope=0.1,zero=-5", CHANNEL, "E,2")
    for text in ("1E-1", "1e-01", "0.10000000000000000000001", "00.1", "10e-2", "1e-001"):
        yield good_block("number-" + text, "another form of 0.1", minimal({"calibration": calibration}), HEAD, CHANNEL,
                         "K,0,zero=-5,slope=" + text, "E")
    yield good_block("number-minus-zero", "unknown", MINIMAL, HEAD, CHANNEL + ",gain=-0.0", "E")
    yield Vector("describe-interrupted", "other lines between its lines, known, unknown, empty, remarks").drop(
        block(HEAD)).use(wire(A), A).idle(b"# remark\n").drop(block(CHANNEL)).use(b"X\n", unknown(88, 1)).use(
        b"H,1,5,21,0,0,0\n", status(1, 5, 21.0)).idle(b"\n").use(block("E,1"), MINIMAL)
    foreign = block("D,2.0,whatever", "C,,,", "K", "E,9")
    yield Vector("describe-major-2", "another major version is told at its E line").use(
        foreign, unknown(1, len(foreign))).use(wire(A), A)


def describe_bad_cases():
    """Rows: name, lines, how many of them are malformed."""
    many = "/".join("1" for _ in range(17))
    channels_9 = ["C,%d,bits=8" % i for i in range(9)]
    rows = [
        ("e-alone", ["E"], 1), ("c-alone", [CHANNEL], 1), ("k-alone", ["K,0,zero=0,slope=1"], 1),
        ("line-count-wrong", [HEAD, CHANNEL, "E,2"], 1), ("line-count-word", [HEAD, CHANNEL, "E,one"], 1),
        ("no-channel", [HEAD, "E"], 1), ("d-without-version", ["D,id=a,tickhz=1,ratemhz=1", CHANNEL, "E"], 3),
        ("d-alone", ["D"], 1), ("version-no-minor", ["D,1,id=a,tickhz=1,ratemhz=1", CHANNEL, "E"], 3),
        ("version-three", ["D,1.0.0,id=a,tickhz=1,ratemhz=1", CHANNEL, "E"], 3),
        ("version-256", ["D,1.256,id=a,tickhz=1,ratemhz=1", CHANNEL, "E"], 3),
        ("no-id", ["D,1.0,tickhz=1,ratemhz=1", CHANNEL, "E"], 1),
        ("id-empty", ["D,1.0,id=,tickhz=1,ratemhz=1", CHANNEL, "E"], 1),
        ("id-33", ["D,1.0,id=" + "i" * 33 + ",tickhz=1,ratemhz=1", CHANNEL, "E"], 1),
        ("no-tickhz", ["D,1.0,id=a,ratemhz=1", CHANNEL, "E"], 1),
        ("tickhz-0", ["D,1.0,id=a,tickhz=0,ratemhz=1", CHANNEL, "E"], 1),
        ("ratemhz-2-32", ["D,1.0,id=a,tickhz=1,ratemhz=4294967296", CHANNEL, "E"], 1),
        ("key-twice", [HEAD + ",id=b", CHANNEL, "E"], 3), ("field-without-sign", [HEAD + ",fast", CHANNEL, "E"], 3),
        ("field-empty", [HEAD + ",", CHANNEL, "E"], 3), ("key-empty", [HEAD + ",=1", CHANNEL, "E"], 3),
        ("two-signs", [HEAD + ",model=a=b", CHANNEL, "E"], 3), ("caps-65536", [HEAD + ",caps=65536", CHANNEL, "E"], 1),
        ("rates-word", [HEAD + ",rates=1/x", CHANNEL, "E"], 1), ("rates-hole", [HEAD + ",rates=1//2", CHANNEL, "E"], 1),
        ("rates-17", [HEAD + ",rates=" + many, CHANNEL, "E"], 1),
        ("c-index-1-first", [HEAD, "C,1,bits=10", "E"], 2), ("c-index-twice", [HEAD, CHANNEL, CHANNEL, "E"], 2),
        ("c-index-hole", [HEAD, CHANNEL, "C,2,bits=10", "E"], 2), ("c-9", [HEAD, *channels_9, "E"], 2),
        ("c-no-bits", [HEAD, "C,0,name=a", "E"], 1), ("c-bits-0", [HEAD, "C,0,bits=0", "E"], 1),
        ("c-bits-33", [HEAD, "C,0,bits=33", "E"], 1), ("c-name-25", [HEAD, CHANNEL + ",name=" + "n" * 25, "E"], 1),
        ("c-gain-negative", [HEAD, CHANNEL + ",gain=-1", "E"], 1),
        ("c-load-too-large", [HEAD, CHANNEL + ",ratedn=1e39", "E"], 1),
        ("k-no-channel", [HEAD, CHANNEL, "K,1,zero=0,slope=1", "E"], 1),
        ("k-channel-8", [HEAD, CHANNEL, "K,8,zero=0,slope=1", "E"], 2),
        ("k-twice", [HEAD, CHANNEL, "K,0,zero=0,slope=1", "K,0,zero=0,slope=1", "E"], 2),
        ("k-no-zero", [HEAD, CHANNEL, "K,0,slope=1", "E"], 2),
        ("k-zero-decimal", [HEAD, CHANNEL, "K,0,zero=1.5,slope=1", "E"], 2),
        ("k-no-slope", [HEAD, CHANNEL, "K,0,zero=0", "E"], 1),
        ("k-slope-0", [HEAD, CHANNEL, "K,0,zero=0,slope=0.000", "E"], 1),
        ("k-slope-rounds-to-0", [HEAD, CHANNEL, "K,0,zero=0,slope=1e-50", "E"], 1),
        ("k-u-word", [HEAD, CHANNEL, "K,0,zero=0,slope=1,u=NaN", "E"], 2),
        ("k-u-negative", [HEAD, CHANNEL, "K,0,zero=0,slope=1,u=-0.1", "E"], 1),
        ("k-date-month-13", [HEAD, CHANNEL, "K,0,zero=0,slope=1,date=20251301", "E"], 1),
        ("k-date-dashes", [HEAD, CHANNEL, "K,0,zero=0,slope=1,date=2025-03-14", "E"], 2),
    ]
    rows += [("number-" + text, [HEAD, CHANNEL, "K,0,zero=0,slope=" + text, "E"], 1)
             for text in (".5", "5.", "+5", "1e", "e5", "0x1p3", "1f", "Infinity", "1e1000", "1 ")]
    for name, lines, malformed in rows:
        yield Vector("describe-bad-" + name, "no describe is handed on").skip(
            block(*lines), malformed=malformed).use(wire(A), A)


def describe_discard_cases():
    checked = [line(x) for x in describe_lines(FULL)]
    broken = checked[1].replace(b"left", b"lost")
    yield Vector("describe-check-wrong", "one damaged line: the describe is discarded, its later lines have no D").skip(
        checked[0] + broken + b"".join(checked[2:]), crcFailures=1, malformed=4).use(wire(FULL), FULL)
    yield Vector("describe-line-vanished", "a line is missing: the number behind E tells").skip(
        b"".join(checked[:2] + checked[3:]), malformed=1).use(wire(FULL), FULL)
    yield Vector("describe-last-line-vanished", "the calibration of channel 1 is missing: only the number tells").skip(
        b"".join(checked[:4] + checked[5:]), malformed=1).use(wire(FULL), FULL)
    yield Vector("describe-d-twice", "the first never ended; the second counts").skip(
        block(HEAD, CHANNEL), malformed=1).use(block(HEAD, CHANNEL, "E"), MINIMAL)
    yield Vector("describe-oversized-between", "a line that is too long may have been its part").skip(
        block(HEAD, CHANNEL) + b"C" * 300 + b"\n" + block("E"), oversized=1, malformed=1).use(LEAST, MINIMAL)
    yield Vector("describe-pending", "no E yet").use(wire(A), A).pending(block(HEAD, CHANNEL))


def text_cases():
    parts = (message_cases, form_cases, check_cases, field_cases, odd_but_good_cases, describe_good_cases,
             describe_bad_cases, describe_discard_cases)
    return [v for part in parts for v in part()] + sequence_cases(wire)
