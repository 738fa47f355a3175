"""Payloads that break a rule or lie at its edge; the byte stream and GATT share them.

Each row: name, why, message type, payload, and what a receiver hands on (None: malformed)."""

import copy
import struct

from gaugeline import DESCRIBE, PING, PONG, REPLY, SAMPLES, STATUS, COMMAND, calibration_bytes, channel_element, \
    describe_header, describe_payload, element, payload
from messages import FULL, MINIMAL, PINGS, PONGS, STATUS_FULL, samples, unknown

NAN, INF = float("nan"), float("inf")
ID = element(0x01, b"bench-1")
CHANNEL = channel_element({"index": 0, "adcBits": 10})
SLOPE = {"zeroCounts": 0, "newtonPerCount": 0.5}


def sample_payloads():
    good = payload(samples(1, 2, [[3], [4]]))
    yield "samples-cut", "two bytes short of two samples", SAMPLES, good[:-2], None
    yield "samples-one-byte-more", "neither 3 nor 4 bytes a count", SAMPLES, good + b"\x00", None
    yield "samples-header-only", "no counts", SAMPLES, good[:8], None
    yield "samples-header-cut", "shorter than the header", SAMPLES, good[:7], None
    yield "samples-empty", "no payload", SAMPLES, b"", None
    yield "samples-none", "zero samples", SAMPLES, good[:6] + b"\x00" + good[7:], None
    yield "samples-no-channel", "empty channel mask", SAMPLES, good[:7] + b"\x00" + good[8:], None
    four = payload(samples(1, 2, [[1], [2], [3], [4]]))
    yield "samples-width-from-length", "twelve bytes are four counts of 3 or three of 4: the count decides", SAMPLES, \
        four[:6] + b"\x03" + four[7:], samples(1, 2, [[0x02000001], [0x00030000], [0x00000400]], width=4)


def describe_with(**changes):
    m = copy.deepcopy(MINIMAL)
    m.update(changes)
    return m


def describe_payloads():
    head = describe_header(MINIMAL)
    good = head + ID + CHANNEL
    yield "describe-header-cut", "11 bytes", DESCRIBE, head[:11], None
    yield "describe-no-elements", "neither id nor channel", DESCRIBE, head, None
    yield "describe-no-id", "the id is always there", DESCRIBE, head + CHANNEL, None
    yield "describe-no-channel", "at least one channel", DESCRIBE, head + ID, None
    yield "describe-id-empty", "at least one byte", DESCRIBE, head + element(1, b"") + CHANNEL, None
    yield "describe-id-33", "at most 32 bytes", DESCRIBE, head + element(1, b"y" * 33) + CHANNEL, None
    yield "describe-id-twice", "once", DESCRIBE, good + ID, None
    yield "describe-model-twice", "at most once", DESCRIBE, good + element(2, b"a") + element(2, b"b"), None
    yield "describe-id-not-utf8", "0xFF is never UTF-8", DESCRIBE, head + element(1, b"a\xff") + CHANNEL, None
    yield "describe-id-control", "an escape character", DESCRIBE, head + element(1, b"a\x1b[31m") + CHANNEL, None
    yield "describe-element-cut", "the length reaches past the end", DESCRIBE, good[:-1], None
    yield "describe-tag-alone", "a tag without a length", DESCRIBE, good + b"\x02", None
    yield "describe-tick-rate-0", "at least 1", DESCRIBE, describe_payload(describe_with(tickRateHz=0)), None
    yield "describe-rate-0", "at least 1", DESCRIBE, describe_payload(describe_with(sampleRateMilliHz=0)), None
    yield "describe-rates-cut", "not a multiple of 4", DESCRIBE, good + element(4, b"\x01\x00\x00\x00\x01"), None
    yield "describe-rates-none", "at least one", DESCRIBE, good + element(4, b""), None
    yield "describe-rates-17", "at most 16", DESCRIBE, good + element(4, struct.pack("<17I", *range(1, 18))), None
    yield "describe-rate-listed-0", "each at least 1", DESCRIBE, good + element(4, struct.pack("<I", 0)), None
    yield "describe-major-2", "another major version, whatever follows", DESCRIBE, b"\x02\x00\x01", unknown(1, 3)
    yield "describe-major-0", "as above", DESCRIBE, b"\x00\x09" + good[2:], unknown(1, len(good))
    yield "describe-one-byte", "too short for a version", DESCRIBE, b"\x01", None
    later = describe_with(version="1.9")
    yield "describe-minor-9", "a later minor version is read", DESCRIBE, describe_payload(later), later
    yield "describe-unknown-tags", "skipped, reserved and private, also empty ones", DESCRIBE, \
        head + element(0x7E, b"") + ID + element(0x05, b"later") + CHANNEL + element(0x80, b"\x00" * 9), MINIMAL
    yield "describe-any-order", "calibration, channel, id", DESCRIBE, \
        head + element(0x11, calibration_bytes(0, SLOPE)) + CHANNEL + ID, \
        describe_with(channels=[{"index": 0, "adcBits": 10, "calibration": SLOPE}])
    eight = describe_with(sampleRateMilliHz=4294967295, supportedRatesMilliHz=list(range(1, 17)))
    yield "describe-rates-16", "as many as allowed", DESCRIBE, describe_payload(eight), eight
    name = describe_with(deviceId="Zug-\u00e4\u00f6\u6e2c\U0001f9ea",
                         channels=[{"index": 7, "adcBits": 1, "name": "\u00e9" * 12}])
    yield "describe-utf8", "two, three and four bytes a character; index 7 alone", DESCRIBE, describe_payload(name), name


def channel_payloads():
    head = describe_header(MINIMAL) + ID

    def channels(*elements):
        return head + b"".join(elements)

    def plain(**fields):
        return channel_element({"index": 0, "adcBits": 10, **fields})

    yield "channel-cut", "13 of 14 bytes", DESCRIBE, channels(element(0x10, CHANNEL[2:-1])), None
    yield "channel-index-8", "at most 7", DESCRIBE, channels(plain(index=8)), None
    yield "channel-index-twice", "rising", DESCRIBE, channels(CHANNEL, CHANNEL), None
    yield "channel-index-falling", "rising", DESCRIBE, channels(plain(index=1), CHANNEL), None
    yield "channel-bits-0", "at least 1", DESCRIBE, channels(plain(adcBits=0)), None
    yield "channel-bits-33", "at most 32", DESCRIBE, channels(plain(adcBits=33)), None
    yield "channel-name-25", "at most 24 bytes", DESCRIBE, channels(plain(name="n" * 25)), None
    yield "channel-name-control", "a line feed", DESCRIBE, channels(plain(name="a\nb")), None
    yield "channel-bandwidth-negative", "at least 0", DESCRIBE, channels(plain(bandwidthHz=-1)), None
    yield "channel-bandwidth-nan", "finite", DESCRIBE, channels(plain(bandwidthHz=NAN)), None
    yield "channel-gain-infinite", "finite", DESCRIBE, channels(plain(gain=INF)), None
    yield "channel-load-nan", "finite", DESCRIBE, channels(plain(ratedLoadN=NAN)), None
    yield "channel-minus-zero", "read as zero, that is unknown", DESCRIBE, channels(plain(gain=-0.0)), MINIMAL
    yield "channels-9", "nine, the last with an index of its own", DESCRIBE, \
        channels(*[plain(index=i) for i in range(9)]), None


def calibration_payloads():
    head = describe_header(MINIMAL) + ID + CHANNEL

    def calibrated(index=0, **fields):
        return head + element(0x11, calibration_bytes(index, {**SLOPE, **fields}))

    def expected(**fields):
        return describe_with(channels=[{"index": 0, "adcBits": 10, "calibration": {**SLOPE, **fields}}])

    yield "calibration-cut", "16 of 17 bytes", DESCRIBE, head + element(0x11, calibration_bytes(0, SLOPE)[:-1]), None
    yield "calibration-longer", "the rest is ignored", DESCRIBE, \
        head + element(0x11, calibration_bytes(0, SLOPE) + b"later"), expected()
    yield "calibration-no-channel", "channel 1 is not there", DESCRIBE, calibrated(1), None
    yield "calibration-channel-8", "no channel can have this index", DESCRIBE, calibrated(8), None
    yield "calibration-twice", "one per channel", DESCRIBE, calibrated() + calibrated()[len(head):], None
    yield "calibration-slope-0", "not zero", DESCRIBE, calibrated(newtonPerCount=0), None
    yield "calibration-slope-nan", "finite", DESCRIBE, calibrated(newtonPerCount=NAN), None
    yield "calibration-u-nan", "NaN is unknown", DESCRIBE, calibrated(relativeStandardUncertainty=NAN), expected()
    yield "calibration-u-0", "zero is allowed", DESCRIBE, calibrated(relativeStandardUncertainty=0.0), \
        expected(relativeStandardUncertainty=0.0)
    yield "calibration-u-negative", "at least 0", DESCRIBE, calibrated(relativeStandardUncertainty=-0.5), None
    yield "calibration-u-infinite", "finite or NaN", DESCRIBE, calibrated(relativeStandardUncertainty=INF), None
    yield "calibration-date-month-13", "a date", DESCRIBE, calibrated(calibratedOn=20251301), None
    yield "calibration-date-day-0", "a date", DESCRIBE, calibrated(calibratedOn=20251200), None
    yield "calibration-date-day-32", "a date", DESCRIBE, calibrated(calibratedOn=20251232), None
    yield "calibration-date-1899", "from 1900", DESCRIBE, calibrated(calibratedOn=18991231), None
    yield "calibration-date-huge", "above 2^31", DESCRIBE, calibrated(calibratedOn=4294967295), None
    yield "calibration-edges", "extreme zero, smallest slope, last day", DESCRIBE, \
        calibrated(zeroCounts=-2147483648, newtonPerCount=1e-45, calibratedOn=99991231), \
        expected(zeroCounts=-2147483648, newtonPerCount=1e-45, calibratedOn=99991231)


def other_payloads():
    status = payload(STATUS_FULL)
    yield "status-cut", "14 of 15 bytes", STATUS, status[:-1], None
    yield "status-longer", "a field of a later version is ignored", STATUS, status + b"\x01\x02", STATUS_FULL
    yield "status-charge-101", "at most 100, or 255", STATUS, status[:4] + b"\x65" + status[5:], None
    yield "status-charge-254", "at most 100, or 255", STATUS, status[:4] + b"\xfe" + status[5:], None
    yield "reply-cut", "2 of 3 bytes", REPLY, b"\x01\x00", None
    yield "command-cut", "no token", COMMAND, b"\x01", None
    yield "pong-cut", "9 of 10 bytes", PONG, payload(PONGS[1])[:-1], None
    yield "pong-longer", "the rest is ignored", PONG, payload(PONGS[1]) + b"\x00", PONGS[1]
    yield "ping-cut", "1 of 2 bytes", PING, b"\x00", None
    yield "ping-longer", "the rest is ignored", PING, payload(PINGS[1]) + b"\x00\x00", PINGS[1]


def payload_rows():
    for rows in (sample_payloads, describe_payloads, channel_payloads, calibration_payloads, other_payloads):
        yield from rows()
