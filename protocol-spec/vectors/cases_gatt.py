"""Cases of the Bluetooth LE binding: one value a chunk, after the byte of its characteristic."""

from cases_payload import payload_rows
from cases_sequence import sequence_cases
from gaugeline import COMMAND, DESCRIBE, PING, SAMPLES, gatt_value, payload
from messages import COMMANDS, EIGHT, FULL, MINIMAL, PINGS, PONGS, REPLIES, STATUS_EDGES, STATUS_FULL, \
    STATUS_UNKNOWN, samples, unknown
from vector import Vector

A = samples(1, 100, [[11]])
B = samples(2, 200, [[-22]])


def value(kind, body):
    if kind in (DESCRIBE, SAMPLES):
        return (b"\x57" if kind == DESCRIBE else b"\x58") + body
    return (b"\x59" if kind in (COMMAND, PING) else b"\x5a") + bytes([kind]) + body


def good(name, why, *messages):
    v = Vector(name, why).canonical()
    for m in messages:
        v.use(gatt_value(m), m)
    return v


def message_cases():
    yield good("describe-minimal", "id and one channel", MINIMAL)
    yield good("describe-full", "every element", FULL)
    yield good("describe-8-channels", "the most channels", EIGHT)
    yield good("samples-mtu-23", "four 24-bit counts fill the 20 bytes of the smallest MTU",
               samples(1, 2, [[-8388608], [8388607], [0], [-1]]))
    yield good("samples-mtu-23-32-bit", "three 32-bit counts fill them as well",
               samples(1, 2, [[-2147483648], [2147483647], [0]], width=4))
    yield good("samples-512", "the longest value: 21 samples of 8 channels",
               samples(1, 2, [[s * 8 + c for c in range(8)] for s in range(21)]))
    yield good("samples-status", "status bits and a mask with holes", samples(1, 2, [[3, 4]], status=7, mask=0x81))
    yield good("status", "all known, all unknown, edges", STATUS_FULL, STATUS_UNKNOWN, STATUS_EDGES)
    yield good("commands", "every opcode and a private one", *COMMANDS)
    yield good("replies", "several results, with and without data", *REPLIES)
    yield good("ping-pong", "edges, and a tick that wraps between", *PINGS, *PONGS)
    longest = {"type": "reply", "opcode": 200, "token": 1, "result": 0, "data": "55" * 508}
    yield good("reply-512", "the longest value of a typed message", longest)


def wrong_cases():
    a = gatt_value(A)
    bad = {"malformed": 1}
    yield Vector("empty", "a characteristic without a value").skip(b"\x58", **bad).use(a, A)
    yield Vector("empty-chunk", "not even a characteristic").skip(b"", **bad).use(a, A)
    yield Vector("unknown-characteristic", "0x56 and 0x5B are none").skip(b"\x56\x01\x02", **bad).skip(
        b"\x5b\x01\x02", **bad).use(a, A)
    yield Vector("oversized", "513 bytes, well-formed but for that").skip(
        b"\x5a\x04" + b"\x01\x02\x00" + bytes(509), oversized=1).use(a, A)
    for kind, name, body in ((0x41, "command", b"\x01\x02"), (0x42, "ping", b"\x01\x02"),
                             (0x01, "describe", payload(MINIMAL)), (0x02, "samples", payload(A))):
        yield Vector("%s-on-reply" % name, "belongs to another characteristic").skip(
            b"\x5a" + bytes([kind]) + body, **bad).use(a, A)
    for kind, name, body in ((0x03, "status", payload(STATUS_FULL)), (0x04, "reply", b"\x01\x02\x00"),
                             (0x05, "pong", payload(PONGS[1])), (0x01, "describe", payload(MINIMAL)),
                             (0x02, "samples", payload(A))):
        yield Vector("%s-on-command" % name, "belongs to another characteristic").skip(
            b"\x59" + bytes([kind]) + body, **bad).use(a, A)
    for code in (0x00, 0x06, 0x43, 0x80, 0xFF):
        yield Vector("unknown-type-%02x" % code, "ignored and counted, on both characteristics").use(
            b"\x5a" + bytes([code]) + b"\x01\x02\x03", unknown(code, 3)).use(
            b"\x59" + bytes([code]), unknown(code, 0)).use(a, A)


def gatt_cases():
    vectors = [*message_cases(), *wrong_cases()]
    for name, why, kind, body, expected in payload_rows():
        v = Vector(name, why)
        vectors.append(v.skip(value(kind, body), malformed=1) if expected is None
                       else v.use(value(kind, body), expected))
        v.use(gatt_value(B), B)
    return vectors + sequence_cases(gatt_value)
