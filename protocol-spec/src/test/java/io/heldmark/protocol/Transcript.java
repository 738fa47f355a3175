package io.heldmark.protocol;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;

/** Keeps every message as one line of text, so that two decodings can be compared. */
final class Transcript implements MessageHandler {
    final List<String> lines = new ArrayList<>();

    @Override
    public void onSamples(SamplesView s) {
        StringBuilder line = new StringBuilder("samples " + s.sequence() + " " + s.tick() + " " + s.status() + " "
                + s.channelMask() + " " + s.sampleCount() + ":");
        for (int sample = 0; sample < s.sampleCount(); sample++) {
            for (int position = 0; position < s.channelCount(); position++) {
                line.append(' ').append(s.counts(sample, position));
            }
        }
        lines.add(line.toString());
    }

    @Override
    public void onDescribe(Describe describe) {
        lines.add(describe.toString());
    }

    @Override
    public void onStatus(Status status) {
        lines.add(status.toString());
    }

    @Override
    public void onCommand(Command c) {
        lines.add("command " + c.opcode() + " " + c.token() + " " + hex(c.arguments()));
    }

    @Override
    public void onReply(Reply r) {
        lines.add("reply " + r.opcode() + " " + r.token() + " " + r.result() + " " + hex(r.data()));
    }

    @Override
    public void onPing(int pingId) {
        lines.add("ping " + pingId);
    }

    @Override
    public void onPong(int pingId, long receivedTick, long transmittedTick) {
        lines.add("pong " + pingId + " " + receivedTick + " " + transmittedTick);
    }

    @Override
    public void onUnknown(int type, int length) {
        lines.add("unknown " + type + " " + length);
    }

    private static String hex(byte[] bytes) {
        return HexFormat.of().formatHex(bytes);
    }
}
