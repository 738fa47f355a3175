#!/usr/bin/python3
"""Socket viewers for load measurements: parse every block and acknowledge every message.

    socket_viewer.py URL NUMBER SECONDS

Prints one JSON line: samples per channel and viewer, and the gaps that the viewers saw. Needs python3-websockets.
"""

import asyncio
import json
import struct
import sys

import websockets


async def view(url, seconds, result):
    async with websockets.connect(url, max_size=None, compression=None, ping_interval=None) as socket:
        sequence = 0
        loop = asyncio.get_running_loop()
        end = loop.time() + seconds
        next_ns = {}
        while loop.time() < end:
            try:
                message = await asyncio.wait_for(socket.recv(), end - loop.time())
            except asyncio.TimeoutError:
                break
            if isinstance(message, str):
                if '"type":"viewer"' in message and '"reduced"' in message:
                    result["reduced"] += 1
                continue
            sequence += 1
            offset = 0
            while offset < len(message):
                _, kind, channel, count, t0_ns, period_ns = struct.unpack_from("<BBHIqd", message, offset)
                offset += 24 + 4 * count * kind
                result["samples"][channel] = result["samples"].get(channel, 0) + count
                expected = next_ns.get(channel)
                if expected is not None and t0_ns - expected > 0.5 * period_ns:
                    result["gaps"] += 1
                next_ns[channel] = t0_ns + count * period_ns
            await socket.send('{"type":"painted","sequence":%d}' % sequence)
        result["messages"] += sequence


async def main():
    url, number, seconds = sys.argv[1], int(sys.argv[2]), float(sys.argv[3])
    result = {"samples": {}, "gaps": 0, "messages": 0, "reduced": 0}
    await asyncio.gather(*(view(url, seconds, result) for _ in range(number)))
    result["viewers"] = number
    print(json.dumps(result), flush=True)


asyncio.run(main())
