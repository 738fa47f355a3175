#!/usr/bin/python3
"""The peer of the station-load measurement: what a lab writes for itself in an afternoon.

Reads Gaugeline byte streams from serial ports with pyserial, low-pass filters with SciPy and broadcasts float32 blocks
to every WebSocket client about 60 times a second. It checks no CRC, records nothing, aligns no clocks, detects nothing.
Needs Debian's python3-serial, python3-scipy and python3-websockets.

    peer_station.py WEBSOCKET_PORT /dev/pts/A [/dev/pts/B ...]
"""

import asyncio
import struct
import sys
import threading

import numpy as np
import scipy.signal
import serial
import websockets


def crc16(data):
    """CRC-16 with polynomial 0x1021 and start value 0xFFFF."""
    crc = 0xFFFF
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = ((crc << 1) ^ 0x1021) & 0xFFFF if crc & 0x8000 else (crc << 1) & 0xFFFF
    return crc


def cobs_encode(data):
    out, block = bytearray(), bytearray()
    for byte in data:
        if byte == 0:
            out += bytes([len(block) + 1]) + block
            block = bytearray()
        else:
            block.append(byte)
    return bytes(out + bytes([len(block) + 1]) + block)


def cobs_decode(frame):
    out, i = bytearray(), 0
    while i < len(frame):
        code = frame[i]
        out += frame[i + 1 : i + code]
        i += code
        if code < 0xFF and i < len(frame):
            out.append(0)
    return out


def command(opcode, token):
    payload = bytes([0x41, opcode, token])
    return b"\x00" + cobs_encode(payload + struct.pack("<H", crc16(payload))) + b"\x00"


class Reader(threading.Thread):
    """One serial port: bytes to filtered newtons."""

    def __init__(self, channel, path):
        super().__init__(daemon=True)
        self.channel = channel
        self.port = serial.Serial(path, 115200, timeout=0.1)
        self.sos = scipy.signal.butter(2, 40, fs=1000, output="sos")
        self.state = scipy.signal.sosfilt_zi(self.sos) * 0
        self.lock = threading.Lock()
        self.blocks = []

    def run(self):
        self.port.write(command(2, 1))
        pending = bytearray()
        while True:
            pending += self.port.read(max(1, self.port.in_waiting))
            *frames, rest = pending.split(b"\x00")
            pending = bytearray(rest)
            counts = [self.counts(cobs_decode(frame)) for frame in frames if frame]
            counts = [values for values in counts if values is not None]
            if counts:
                force, self.state = scipy.signal.sosfilt(self.sos, np.concatenate(counts) * 0.001, zi=self.state)
                with self.lock:
                    self.blocks.append(force.astype("<f4"))

    @staticmethod
    def counts(message):
        if len(message) < 12 or message[0] != 0x02:
            return None
        samples = message[7] & 31
        width = (len(message) - 3 - 8) // samples
        raw = np.frombuffer(message, np.uint8, samples * width, 9).reshape(samples, width).astype(np.int32)
        value = raw[:, 0] | raw[:, 1] << 8 | raw[:, 2] << 16
        return np.where(value >= 1 << 23, value - (1 << 24), value)

    def take(self):
        with self.lock:
            blocks, self.blocks = self.blocks, []
        return np.concatenate(blocks) if blocks else None


async def main():
    readers = [Reader(channel, path) for channel, path in enumerate(sys.argv[2:])]
    clients = set()

    async def join(client, *_):
        clients.add(client)
        try:
            await client.wait_closed()
        finally:
            clients.discard(client)

    async with websockets.serve(join, "127.0.0.1", int(sys.argv[1]), ping_interval=None, compression=None):
        for reader in readers:
            reader.start()
        print("ready", flush=True)
        while True:
            await asyncio.sleep(1 / 60)
            parts = []
            for reader in readers:
                block = reader.take()
                if block is not None:
                    parts.append(struct.pack("<BBHIqd", 1, 1, reader.channel, len(block), 0, 1e6) + block.tobytes())
            if parts:
                websockets.broadcast(clients, b"".join(parts))


asyncio.run(main())
