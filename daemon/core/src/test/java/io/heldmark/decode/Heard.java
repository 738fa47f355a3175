package io.heldmark.decode;

import io.heldmark.protocol.Describe;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.Status;
import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Keeps what a link decoder said. */
final class Heard implements LinkDecoder.Listener {
    record Placed(long firstTick, long firstIndex, long missing, int count, int mask, int status, boolean restarted) {}

    final List<Placed> frames = new ArrayList<>();
    final List<Describe> describes = new ArrayList<>();
    final List<Status> statuses = new ArrayList<>();
    final List<Reply> replies = new ArrayList<>();
    final List<String> pongs = new ArrayList<>();
    int[] counts = {};
    long arrivalNs;
    double ticksPerSample;

    Placed newest() {
        return frames.get(frames.size() - 1);
    }

    static byte[] joined(byte[]... parts) {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        for (byte[] part : parts) {
            all.writeBytes(part);
        }
        return all.toByteArray();
    }

    @Override
    public void onFrame(DecodedFrame f) {
        frames.add(new Placed(
                f.firstTick,
                f.firstSampleIndex,
                f.missingBefore,
                f.sampleCount,
                f.channelMask,
                f.status,
                f.clockRestarted));
        counts = Arrays.copyOf(f.counts, f.sampleCount * f.channelCount);
        arrivalNs = f.arrivalNs;
        ticksPerSample = f.ticksPerSample;
    }

    @Override
    public void onDescribe(Describe describe, long atNs) {
        describes.add(describe);
    }

    @Override
    public void onStatus(Status status, long atNs) {
        statuses.add(status);
    }

    @Override
    public void onReply(Reply reply, long atNs) {
        replies.add(reply);
    }

    @Override
    public void onPong(int pingId, long receivedTick, long transmittedTick, long arrival) {
        pongs.add(pingId + " " + receivedTick + " " + transmittedTick + " " + arrival);
    }
}
