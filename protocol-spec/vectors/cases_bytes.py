"""Cases of the byte-stream binding."""

from cases_payload import payload_rows
from cases_sequence import sequence_cases
from gaugeline import PING, byte_frame, cobs, crc16, frame, samples_payload
from messages import COMMANDS, EIGHT, FULL, MINIMAL, PINGS, PONGS, REPLIES, STATUS_EDGES, STATUS_FULL, \
    STATUS_UNKNOWN, samples, unknown
from vector import Vector

A = samples(1, 100, [[11]])
B = samples(2, 200, [[-22]])
C = samples(3, 300, [[33]])


def wire(m):
    return byte_frame(m)


def good(name, why, *messages):
    v = Vector(name, why).canonical()
    for m in messages:
        v.use(wire(m), m)
    return v


def message_cases():
    yield good("describe-minimal", "id and one channel", MINIMAL)
    yield good("describe-full", "every element", FULL)
    yield good("describe-8-channels", "the most channels", EIGHT)
    yield good("samples-24", "one channel, one sample of 24 bit", A)
    yield good("samples-24-edges", "least and greatest 24-bit counts",
               samples(65535, 4294967295, [[-8388608, 8388607], [0, -1]]))
    yield good("samples-32-edges", "least and greatest 32-bit counts",
               samples(0, 0, [[-2147483648, 2147483647], [0, -1]], width=4))
    yield good("samples-mask-with-holes", "channels 0, 2, 5 and 7", samples(9, 9, [[1, 2, 3, 4]], mask=0xA5))
    yield good("samples-8-channels", "all channels, 20 samples: a frame of 491 bytes",
               samples(9, 9, [[s * 8 + c - 80 for c in range(8)] for s in range(20)]))
    yield good("samples-31", "the most samples", samples(9, 9, [[s * 65793] for s in range(31)]))
    for status, name in ((1, "overload"), (2, "adc-fault"), (4, "device-loss"), (7, "all-status")):
        yield good("samples-" + name, "status bits", samples(9, 9, [[8388607]], status=status))
    yield good("status", "all known, all unknown, edges", STATUS_FULL, STATUS_UNKNOWN, STATUS_EDGES)
    yield good("commands", "every opcode and a private one", *COMMANDS)
    yield good("replies", "several results, with and without data", *REPLIES)
    yield good("ping-pong", "edges, and a tick that wraps between", *PINGS, *PONGS)


def long_cases():
    for size in (249, 250, 251, 252, 505, 507):
        m = {"type": "command", "opcode": 128, "token": 9, "arguments": "7f" * size}
        yield good("stuffing-%d" % size, "a frame of %d bytes without a zero but perhaps in the CRC" % (size + 5), m)
    m = {"type": "command", "opcode": 128, "token": 9, "arguments": "00" * 507}
    yield good("stuffing-zeros", "the longest frame, nearly all zeros", m)
    over = frame(0x41, b"\x80\x09" + b"\x7f" * 508)
    yield Vector("oversized-by-one", "513 bytes before stuffing").skip(over, oversized=1).use(wire(A), A)
    zeros = frame(0x41, b"\x80\x09" + b"\x00" * 508)
    yield Vector("oversized-zeros", "513 bytes that stuff to no more than 515").skip(zeros, oversized=1).use(wire(A), A)
    junk = bytes(1 + i % 255 for i in range(1500))
    yield Vector("oversized-junk", "1500 bytes without a delimiter are skipped up to the next one").skip(
        junk + b"\x00", oversized=1).use(wire(A), A)
    yield Vector("oversized-515", "515 bytes on the wire are not too long by themselves").skip(
        b"\x01" * 515 + b"\x00", oversized=1).skip(b"\x01" * 513 + b"\x00", crcFailures=1).use(wire(A), A)


def damage_cases():
    a = wire(A)
    yield Vector("opening", "the 0x00 of a sender that starts").idle(b"\x00").use(a, A)
    yield Vector("idle-zeros", "empty frames").use(a, A).idle(b"\x00" * 5).use(wire(B), B)
    flipped = bytes([a[0], a[1], a[2] ^ 0x10]) + a[3:]
    yield Vector("bad-crc", "one bit changed").skip(flipped, crcFailures=1).use(wire(B), B)
    body = b"\x02" + samples_payload(A)
    swapped = cobs(body + crc16(body).to_bytes(2, "big")) + b"\x00"
    yield Vector("crc-high-byte-first", "the CRC in the wrong order").skip(swapped, crcFailures=1).use(wire(B), B)
    yield Vector("cut", "a frame that stops in the middle").skip(a[:7] + b"\x00", crcFailures=1).use(wire(B), B)
    yield Vector("delimiter-lost", "two frames run into one").skip(a[:-1] + wire(B), crcFailures=1).use(
        wire(C), C)
    yield Vector("block-past-end", "a block that claims more bytes than there are").skip(
        b"\x05\x01\x02\x00", crcFailures=1).use(a, A)
    for length in (1, 2):
        yield Vector("too-short-%d" % length, "no room for type and CRC").skip(
            cobs(b"\x02" * length) + b"\x00", crcFailures=1).use(a, A)
    bare = cobs(crc16(b"").to_bytes(2, "little")) + b"\x00"
    yield Vector("crc-alone", "a correct CRC over nothing").skip(bare, crcFailures=1).use(a, A)
    yield Vector("garbage-ended", "boot text, then the opening 0x00 of the sender").skip(
        b"ready to rumble\r\n\x00", crcFailures=1).use(a, A)
    yield Vector("garbage-into-frame", "garbage without a delimiter costs the frame that it runs into").skip(
        b"\xde\xad\xbe\xef" + a, crcFailures=1).use(wire(B), B)
    yield Vector("garbage-between", "garbage with zeros between frames").use(a, A).skip(
        b"\x11\x22\x00", crcFailures=1).idle(b"\x00\x00").skip(b"\x33\x00", crcFailures=1).use(wire(B), B)
    yield Vector("pending", "the last frame has not ended").use(a, A).pending(wire(B)[:-1])
    full = b"\x42" + b"\x7f" * 251
    full += crc16(full).to_bytes(2, "little")
    assert len(full) == 254 and 0 not in full
    short, padded = cobs(full) + b"\x00", cobs(full) + b"\x01\x00"
    ping = {"type": "ping", "pingId": 0x7F7F}
    yield Vector("full-block-short-form", "a full block ends the frame; ping, longer").use(short, ping)
    yield Vector("full-block-long-form", "the same with an empty block after it").use(padded, ping)


def unknown_cases():
    for code in (0x00, 0x06, 0x3F, 0x40, 0x43, 0x7F, 0x80, 0xFF):
        yield Vector("unknown-type-%02x" % code, "ignored and counted").use(
            frame(code, b"\x01\x00\x02"), unknown(code, 3)).use(wire(A), A)
    yield Vector("unknown-type-empty", "type and CRC only").use(frame(0x06, b""), unknown(0x06, 0))
    yield Vector("known-type-empty", "a ping without its id").skip(frame(PING, b""), malformed=1)


def bytes_cases():
    vectors = [*message_cases(), *long_cases(), *damage_cases(), *unknown_cases()]
    for name, why, kind, payload, expected in payload_rows():
        v = Vector(name, why)
        vectors.append(v.skip(frame(kind, payload), malformed=1) if expected is None
                       else v.use(frame(kind, payload), expected))
        v.use(wire(B), B)
    return vectors + sequence_cases(wire)
