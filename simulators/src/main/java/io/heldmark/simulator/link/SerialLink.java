package io.heldmark.simulator.link;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.CellSpec;

/**
 * A serial line behind a USB adapter: bytes go onto the wire at the baud rate, ten bits each; the adapter hands them to the
 * host when it has 62, or when its latency timer runs out. So messages arrive cut anywhere.
 *
 * <p>Source: packets of 64 bytes, two of them status, and a latency timer of 16 ms by default are those of common USB serial
 * adapters, application note AN232B-04 (timer as read there; packet size from memory).
 */
final class SerialLink implements LinkModel {
    private static final int PACKET_BYTES = 62;

    private final double byteNs;
    private final long timerNs;
    private final Delay delay;
    private final Delay back;
    private long wireFreeNs;
    private long lastPacketNs;
    private long lastDueNs;
    private long packets;
    private long backIndex;

    /** The next packet: when the adapter hands it over, and how many bytes it holds. */
    private record Packet(long atNs, int length) {}

    SerialLink(CellSpec.LinkTiming spec, SeededRandom random) {
        byteNs = 10e9 / spec.baud();
        timerNs = Math.round(spec.latencyTimerS() * 1e9);
        lastPacketNs = -(long) (random.split("phase").nextDouble() * timerNs);
        delay = new Delay(spec, random.split("forth"));
        back = new Delay(spec, random.split("back"));
    }

    @Override
    public long dueNs(FrameQueue queue) {
        return queue.isEmpty() ? NEVER : dueNs(next(queue));
    }

    @Override
    public void deliver(FrameQueue queue, Chunk into) {
        Packet packet = next(queue);
        lastDueNs = dueNs(packet);
        lastPacketNs = packet.atNs();
        packets++;
        int missing = packet.length();
        while (missing > 0) {
            Frame frame = queue.get(0);
            if (frame.delivered == 0) {
                frame.wireStartNs = Math.max(frame.handoverNs, wireFreeNs);
            }
            int count = Math.min(missing, frame.bytes.length - frame.delivered);
            into.add(frame.bytes, frame.delivered, count);
            frame.delivered += count;
            missing -= count;
            if (frame.delivered == frame.bytes.length) {
                wireFreeNs = sentNs(frame.wireStartNs, frame.bytes.length);
                queue.removeFirst();
            }
        }
    }

    @Override
    public long atDeviceNs(long sentNs, int length) {
        return sentNs + back.latencyNs() + back.jitterNs(backIndex++) + (long) (length * byteNs);
    }

    private long dueNs(Packet packet) {
        return Math.max(lastDueNs, packet.atNs() + delay.latencyNs() + delay.jitterNs(packets));
    }

    /** Walks the bytes along the wire until the packet is full or the timer runs out. */
    private Packet next(FrameQueue queue) {
        long freeNs = wireFreeNs;
        long timerAtNs = NEVER;
        int length = 0;
        for (int i = 0; i < queue.size(); i++) {
            Frame frame = queue.get(i);
            long startNs = frame.delivered > 0 ? frame.wireStartNs : Math.max(frame.handoverNs, freeNs);
            if (length == 0) {
                timerAtNs = timerAfter(sentNs(startNs, frame.delivered + 1));
            }
            int wanted = Math.min(PACKET_BYTES - length, frame.bytes.length - frame.delivered);
            int inTime = sentBy(startNs, timerAtNs) - frame.delivered;
            if (inTime < wanted) {
                return new Packet(timerAtNs, length + Math.max(0, inTime));
            }
            length += wanted;
            if (length == PACKET_BYTES) {
                return new Packet(sentNs(startNs, frame.delivered + wanted), length);
            }
            freeNs = sentNs(startNs, frame.bytes.length);
        }
        return new Packet(timerAtNs, length);
    }

    /** Returns when the timer next runs out at or after a time; it starts anew with each packet, empty ones included. */
    private long timerAfter(long timeNs) {
        long rounds = Math.max(1, (timeNs - lastPacketNs + timerNs - 1) / timerNs);
        return lastPacketNs + rounds * timerNs;
    }

    private long sentNs(long startNs, int bytes) {
        return startNs + (long) (bytes * byteNs);
    }

    private int sentBy(long startNs, long timeNs) {
        if (timeNs < startNs) {
            return 0;
        }
        int bytes = (int) Math.min(1 << 20, (timeNs - startNs) / byteNs);
        while (sentNs(startNs, bytes + 1) <= timeNs) {
            bytes++;
        }
        while (bytes > 0 && sentNs(startNs, bytes) > timeNs) {
            bytes--;
        }
        return bytes;
    }
}
