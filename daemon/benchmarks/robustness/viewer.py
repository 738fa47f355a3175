"""A WebSocket client of the station for whole-process runs. Needs Debian's python3-websockets."""

import asyncio
import json
import struct
import threading

import websockets


class Viewer(threading.Thread):
    """One WebSocket client: every JSON event, and how many samples of each channel it was sent."""

    def __init__(self, url):
        super().__init__(daemon=True)
        self.url = url.replace("http", "ws", 1) + "/ws/live"
        self.events = []
        self.samples = {}
        self.newest_ns = 0  # station time of the newest sample that it was sent
        self.joined = threading.Event()
        self.problem = ""

    def run(self):
        try:
            asyncio.run(self.watch())
        except (OSError, websockets.WebSocketException) as problem:
            self.problem = f"the viewer was cut off: {problem!r}"

    async def watch(self):
        async with websockets.connect(self.url, max_size=None, compression=None, ping_interval=None) as socket:
            sequence = 0
            async for message in socket:
                if isinstance(message, str):
                    self.events.append(message)
                    self.joined.set()
                    continue
                sequence += 1
                at = 0
                while at < len(message):
                    _, kind, channel, number, from_ns, period_ns = struct.unpack_from("<BBHIqd", message, at)
                    self.newest_ns = max(self.newest_ns, from_ns + round((number - 1) * period_ns))
                    at += 24 + 4 * number * kind
                    self.samples[channel] = self.samples.get(channel, 0) + number
                await socket.send('{"type":"painted","sequence":%d}' % sequence)

    def of(self, kind):
        begin = '{"type":"%s"' % kind
        return [json.loads(event) for event in list(self.events) if event.startswith(begin)]
