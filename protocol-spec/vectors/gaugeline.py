"""A small encoder of the Gaugeline protocol, version 1, written from gaugeline-v1.md and from nothing else.

It exists to be independent of the other codecs: golden vectors are made with it. It writes what it is told, also what
the protocol forbids. Messages are dictionaries in the form that schema.json describes. Standard library only.
"""

import binascii
import math
import struct

DESCRIBE, SAMPLES, STATUS, REPLY, PONG, COMMAND, PING = 0x01, 0x02, 0x03, 0x04, 0x05, 0x41, 0x42
TYPES = {"describe": DESCRIBE, "samples": SAMPLES, "status": STATUS, "reply": REPLY, "pong": PONG,
         "command": COMMAND, "ping": PING}


def crc16(data):
    """CRC-16/CCITT-FALSE, bit by bit; the standard library's crc_hqx is the same with this start value."""
    crc = 0xFFFF
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = ((crc << 1) ^ 0x1021 if crc & 0x8000 else crc << 1) & 0xFFFF
    assert crc == binascii.crc_hqx(data, 0xFFFF)
    return crc


def cobs(data):
    """Consistent overhead byte stuffing: cut at zeros, cut parts into blocks of at most 254, put lengths before."""
    out = b""
    parts = data.split(b"\x00")
    for number, part in enumerate(parts):
        while len(part) > 254:
            out += b"\xff" + part[:254]
            part = part[254:]
        last = number == len(parts) - 1
        if len(part) == 254:  # Full: no zero follows by itself, so one needs a block of its own.
            out += b"\xff" + part + (b"" if last else b"\x01")
        else:
            out += bytes([len(part) + 1]) + part
    return out


def frame(kind, payload):
    """A frame of the byte stream on the wire."""
    body = bytes([kind]) + payload
    return cobs(body + struct.pack("<H", crc16(body))) + b"\x00"


# ---- payloads ----

def samples_payload(m):
    mask = m["channelMask"]
    head = struct.pack("<HIBB", m["sequence"], m["tick"], m["status"] << 5 | len(m["counts"]), mask)
    width = m.get("bytesPerCount", 3)
    return head + b"".join(c.to_bytes(width, "little", signed=True) for sample in m["counts"] for c in sample)


def element(tag, value):
    return bytes([tag, len(value)]) + value


def channel_element(c):
    head = struct.pack("<BBfff", c["index"], c["adcBits"], c.get("bandwidthHz", 0), c.get("gain", 0),
                       c.get("ratedLoadN", 0))
    return element(0x10, head + c.get("name", "").encode())


def calibration_bytes(index, k):
    u = k.get("relativeStandardUncertainty", math.nan)
    return struct.pack("<BiffI", index, k["zeroCounts"], k["newtonPerCount"], u, k.get("calibratedOn", 0))


def describe_header(m):
    major, minor = m["version"].split(".")
    return struct.pack("<BBHII", int(major), int(minor), m.get("capabilities", 0), m["tickRateHz"],
                       m["sampleRateMilliHz"])


def describe_payload(m):
    out = describe_header(m) + element(0x01, m["deviceId"].encode())
    for tag, key in ((0x02, "model"), (0x03, "firmware")):
        if key in m:
            out += element(tag, m[key].encode())
    if "supportedRatesMilliHz" in m:
        out += element(0x04, b"".join(struct.pack("<I", r) for r in m["supportedRatesMilliHz"]))
    for c in m["channels"]:
        out += channel_element(c)
    for c in m["channels"]:
        if "calibration" in c:
            out += element(0x11, calibration_bytes(c["index"], c["calibration"]))
    return out


def status_payload(m):
    tenths = round(m["temperatureC"] * 10) if "temperatureC" in m else -32768
    return struct.pack("<IBhHIH", m["tick"], m.get("batteryPercent", 255), tenths, m["adcFaultCount"],
                       m["lostSampleCount"], m["rejectedFrameCount"])


def payload(m):
    kind = m["type"]
    if kind == "samples":
        return samples_payload(m)
    if kind == "describe":
        return describe_payload(m)
    if kind == "status":
        return status_payload(m)
    if kind == "reply":
        return bytes([m["opcode"], m["token"], m["result"]]) + bytes.fromhex(m.get("data", ""))
    if kind == "command":
        return bytes([m["opcode"], m["token"]]) + bytes.fromhex(m.get("arguments", ""))
    if kind == "pong":
        return struct.pack("<HII", m["pingId"], m["receivedTick"], m["transmittedTick"])
    if kind == "ping":
        return struct.pack("<H", m["pingId"])
    raise ValueError(kind)


# ---- bindings ----

def byte_frame(m):
    return frame(TYPES[m["type"]], payload(m))


def gatt_value(m):
    """A value with the byte before it that says which characteristic it belongs to."""
    kind = TYPES[m["type"]]
    if kind == DESCRIBE:
        return b"\x57" + payload(m)
    if kind == SAMPLES:
        return b"\x58" + payload(m)
    return (b"\x59" if kind in (COMMAND, PING) else b"\x5a") + bytes([kind]) + payload(m)


def as_f32(x):
    """The binary32 next to x, exactly."""
    return struct.unpack("<f", struct.pack("<f", x))[0]


def f32_text(x):
    """The decimal number with the fewest digits that gives a binary32 back, written as %.9g would."""
    x = as_f32(x)
    for digits in range(1, 10):
        text = "%.9g" % float("%.*g" % (digits, x))
        try:
            if as_f32(float(text)) == x:
                return text
        except OverflowError:  # Rounded up beyond the greatest binary32.
            pass
    raise ValueError(x)


def f32(x):
    """The binary32 next to x, as the double with the fewest digits."""
    return float(f32_text(x))


def line(body, check=True):
    """A text line on the wire."""
    data = body.encode("ascii")
    return data + (b"*%04X" % crc16(data) if check else b"") + b"\n"


def describe_lines(m):
    head = ["D", m["version"], "id=" + m["deviceId"], "tickhz=%d" % m["tickRateHz"],
            "ratemhz=%d" % m["sampleRateMilliHz"]]
    head += [key + "=" + m[key] for key in ("model", "firmware") if key in m]
    if m.get("capabilities", 0):
        head.append("caps=%d" % m["capabilities"])
    if "supportedRatesMilliHz" in m:
        head.append("rates=" + "/".join(str(r) for r in m["supportedRatesMilliHz"]))
    lines = [",".join(head)]
    for c in m["channels"]:
        fields = ["C", str(c["index"]), "bits=%d" % c["adcBits"]]
        fields += ["name=" + c["name"]] if "name" in c else []
        for key, name in (("bandwidthhz", "bandwidthHz"), ("gain", "gain"), ("ratedn", "ratedLoadN")):
            fields += [key + "=" + f32_text(c[name])] if name in c else []
        lines.append(",".join(fields))
    for c in m["channels"]:
        if "calibration" in c:
            k = c["calibration"]
            fields = ["K", str(c["index"]), "zero=%d" % k["zeroCounts"], "slope=" + f32_text(k["newtonPerCount"])]
            u = k.get("relativeStandardUncertainty")
            fields += ["u=" + f32_text(u)] if u is not None else []
            fields += ["date=%d" % k["calibratedOn"]] if k.get("calibratedOn") else []
            lines.append(",".join(fields))
    return lines + ["E,%d" % (len(lines) - 1)]


def body(m):
    """The lines of a message, without checks."""
    kind = m["type"]
    if kind == "samples":
        fields = ["S", m["sequence"], m["tick"], m["status"] or "", *m["counts"][0]]
    elif kind == "describe":
        return describe_lines(m)
    elif kind == "status":
        temperature = "%.1f" % m["temperatureC"] if "temperatureC" in m else ""
        fields = ["H", m["tick"], m.get("batteryPercent", ""), temperature, m["adcFaultCount"],
                  m["lostSampleCount"], m["rejectedFrameCount"]]
    elif kind == "reply":
        fields = ["R", m["opcode"], m["token"], m["result"]] + ([m["data"].upper()] if "data" in m else [])
    elif kind == "command":
        fields = ["Q", m["opcode"], m["token"]] + ([m["arguments"].upper()] if "arguments" in m else [])
    elif kind == "pong":
        fields = ["O", m["pingId"], m["receivedTick"], m["transmittedTick"]]
    else:
        fields = ["P", m["pingId"]]
    return [",".join(str(f) for f in fields)]


def text_lines(m, check=True):
    return b"".join(line(b, check) for b in body(m))
