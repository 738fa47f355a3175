"""One golden vector in the making. What a receiver must count is written down by the one who makes the vector, piece by
piece; nothing here decodes."""

import json

COUNTERS = ("bytes", "messageBytes", "skippedBytes", "idleBytes", "messages", "sampleFrames", "crcFailures", "malformed",
            "oversized", "unknownMessages", "gaps", "missingFrames", "duplicates", "reordered", "restarts")


class Vector:
    def __init__(self, name, why):
        self.fields = {"name": name, "why": why}
        self.chunks = []
        self.messages = []
        self.counters = dict.fromkeys(COUNTERS, 0)

    def canonical(self, **options):
        """An encoder that is given the messages writes exactly these bytes."""
        self.fields["canonical"] = True
        self.fields.update(options)
        return self

    def use(self, wire, message, **counters):
        """A message that is handed on."""
        self._add(wire, "messageBytes", counters)
        self.messages.append(message)
        self.counters["messages"] += 1
        self.counters["sampleFrames"] += message["type"] == "samples"
        self.counters["unknownMessages"] += message["type"] == "unknown"
        return self

    def drop(self, wire, **counters):
        """A well-formed message that is not handed on."""
        return self._add(wire, "messageBytes", counters)

    def skip(self, wire, **counters):
        """Bytes that belong to no usable message."""
        return self._add(wire, "skippedBytes", counters)

    def idle(self, wire):
        return self._add(wire, "idleBytes", {})

    def pending(self, wire):
        """The beginning of something that has not ended."""
        return self._add(wire, None, {})

    def _add(self, wire, account, counters):
        self.chunks.append(wire)
        self.counters["bytes"] += len(wire)
        if account:
            self.counters[account] += len(wire)
        for name, amount in counters.items():
            self.counters[name] += amount
        return self

    def to_json(self, binding):
        """Lines of JSON, one message a line. Chunks of GATT are values; else they have no meaning and become one."""
        out = dict(self.fields)
        chunks = self.chunks if binding == "gatt" else [b"".join(self.chunks)]
        out["chunks"] = [c.hex() for c in chunks]
        if binding == "text":
            out["text"] = chunks[0].decode("latin-1")
        out["messages"] = self.messages
        out["counters"] = {k: v for k, v in self.counters.items() if v}
        rows = []
        for key, value in out.items():
            if key in ("messages", "chunks") and len(value) > 1:
                inner = ",\n".join("        " + json.dumps(v) for v in value)
                rows.append('      "%s": [\n%s\n      ]' % (key, inner))
            else:
                rows.append('      "%s": %s' % (key, json.dumps(value)))
        return "    {\n" + ",\n".join(rows) + "\n    }"


def document(binding, vectors):
    names = [v.fields["name"] for v in vectors]
    assert len(names) == len(set(names)), "a name is given twice"
    head = '{\n  "format": "gaugeline-vectors/1",\n  "binding": "%s",\n  "vectors": [\n' % binding
    return head + ",\n".join(v.to_json(binding) for v in vectors) + "\n  ]\n}\n"
