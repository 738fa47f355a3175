"""Messages that the cases of all bindings share. Devices and values are invented."""

from gaugeline import calibration_bytes, f32


def samples(sequence, tick, counts, status=0, mask=None, width=3):
    return {"type": "samples", "sequence": sequence, "tick": tick, "status": status,
            "channelMask": (1 << len(counts[0])) - 1 if mask is None else mask, "bytesPerCount": width,
            "counts": counts}


MINIMAL = {"type": "describe", "version": "1.0", "tickRateHz": 1000000, "sampleRateMilliHz": 80000,
           "deviceId": "bench-1", "channels": [{"index": 0, "adcBits": 10}]}

FULL = {
    "type": "describe", "version": "1.0", "capabilities": 63, "tickRateHz": 4294967295,
    "sampleRateMilliHz": 1000000, "deviceId": "cell-7F3A21C0", "model": "Twin board", "firmware": "1.4.2-rc1",
    "supportedRatesMilliHz": [80000, 320000, 1000000],
    "channels": [
        {"index": 0, "adcBits": 24, "bandwidthHz": 262.5, "gain": 128.0, "ratedLoadN": 2000.0, "name": "left cuff",
         "calibration": {"zeroCounts": 84210, "newtonPerCount": f32(0.00123), "relativeStandardUncertainty": f32(0.001),
                         "calibratedOn": 20250314}},
        {"index": 1, "adcBits": 24, "bandwidthHz": 262.5, "name": "right cuff",
         "calibration": {"zeroCounts": -17, "newtonPerCount": f32(-1.5e-7)}},
    ],
}

EIGHT = {"type": "describe", "version": "1.0", "tickRateHz": 32768, "sampleRateMilliHz": 1, "deviceId": "x" * 32,
         "channels": [{"index": i, "adcBits": 32 - i, "ratedLoadN": f32(10.0 ** i), "name": "abcdefgh"[: i]}
                      if i else {"index": 0, "adcBits": 32, "ratedLoadN": 1.0} for i in range(8)]}

STATUS_FULL = {"type": "status", "tick": 4294967295, "batteryPercent": 87, "temperatureC": -3.4,
               "adcFaultCount": 65535, "lostSampleCount": 4294967295, "rejectedFrameCount": 3}
STATUS_UNKNOWN = {"type": "status", "tick": 0, "adcFaultCount": 0, "lostSampleCount": 0, "rejectedFrameCount": 0}
STATUS_EDGES = {"type": "status", "tick": 1, "batteryPercent": 0, "temperatureC": 3276.7, "adcFaultCount": 1,
                "lostSampleCount": 2, "rejectedFrameCount": 65535}

CALIBRATION_HEX = calibration_bytes(0, FULL["channels"][0]["calibration"]).hex()
COMMANDS = [
    {"type": "command", "opcode": 1, "token": 0},
    {"type": "command", "opcode": 2, "token": 1},
    {"type": "command", "opcode": 3, "token": 255},
    {"type": "command", "opcode": 4, "token": 2, "arguments": "40420f00"},
    {"type": "command", "opcode": 5, "token": 3, "arguments": "0a"},
    {"type": "command", "opcode": 6, "token": 4, "arguments": "00"},
    {"type": "command", "opcode": 7, "token": 5, "arguments": CALIBRATION_HEX},
    {"type": "command", "opcode": 8, "token": 6},
    {"type": "command", "opcode": 200, "token": 7, "arguments": "0001"},
]
REPLIES = [
    {"type": "reply", "opcode": 1, "token": 0, "result": 0},
    {"type": "reply", "opcode": 6, "token": 4, "result": 0, "data": CALIBRATION_HEX},
    {"type": "reply", "opcode": 200, "token": 7, "result": 1},
    {"type": "reply", "opcode": 4, "token": 2, "result": 2},
    {"type": "reply", "opcode": 7, "token": 5, "result": 5},
    {"type": "reply", "opcode": 0, "token": 255, "result": 255},
]
PINGS = [{"type": "ping", "pingId": 0}, {"type": "ping", "pingId": 65535}]
PONGS = [{"type": "pong", "pingId": 0, "receivedTick": 0, "transmittedTick": 0},
         {"type": "pong", "pingId": 65535, "receivedTick": 4294967290, "transmittedTick": 14}]


def unknown(code, length):
    return {"type": "unknown", "typeCode": code, "length": length}
