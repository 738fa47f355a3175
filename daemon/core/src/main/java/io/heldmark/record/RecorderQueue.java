package io.heldmark.record;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.concurrent.atomic.AtomicLong;

/**
 * The producer's side of a recorder: puts items into the ring, and keeps account of those that find no room.
 *
 * <p><b>Overflow.</b> An item that finds no room is dropped and counted, and so is everything after it until half of the
 * ring is free again; then one gap per link says in the file what is missing, right where it is missing. Waiting for half
 * makes one long gap of what would otherwise be many short ones.
 *
 * <p><b>Threading.</b> Everything here belongs to the producer, except {@link #stop}, the counters and, once
 * {@link #ending} is true, {@link #writeOpenGaps}, which are the worker's.
 */
final class RecorderQueue {
    static final int CHUNK = 1;
    static final int SENT = 2;
    static final int EVENT = 3;
    static final int LINK = 4;
    static final int CHUNK_GAP = 5;
    static final int EVENT_GAP = 6;

    private final ByteRing ring;
    private final AtomicLong takenChunks = new AtomicLong();
    private final AtomicLong takenBytes = new AtomicLong();
    private final AtomicLong takenEvents = new AtomicLong();
    private final AtomicLong refusedChunks = new AtomicLong();
    private final AtomicLong refusedBytes = new AtomicLong();
    private final AtomicLong refusedEvents = new AtomicLong();
    private final Deque<byte[]> waitingLinks = new ArrayDeque<>();
    private int links;
    private boolean losing;
    private Gap[] gaps = new Gap[0];
    private final Gap eventGap = new Gap();
    private volatile boolean stopped;
    private volatile boolean ending;

    /** What one link lost since the last gap in the file. */
    private static final class Gap {
        long firstNs;
        long items;
        long bytes;

        void add(long timeNs, int length) {
            if (items == 0) {
                firstNs = timeNs;
            }
            items++;
            bytes += length;
        }

        String chunkJson(int link) {
            return StationEvents.chunkGap(link, items, bytes);
        }

        void clear() {
            items = 0;
            bytes = 0;
        }
    }

    RecorderQueue(int ringBytes, int links) {
        ring = new ByteRing(ringBytes);
        this.links = links;
        growGaps();
    }

    ByteRing ring() {
        return ring;
    }

    int addLink(LinkHeader link) {
        int number = links++;
        growGaps();
        byte[] block = RecordingWriter.linkBlock(number, link);
        waitingLinks.add(block);
        if (losing || !putWaitingLinks()) {
            losing = true;
        }
        return number;
    }

    boolean chunk(int kind, int link, long timeNs, byte[] bytes, int offset, int length) {
        if (link < 0 || link >= links) {
            throw new IllegalArgumentException("link out of range: link=" + link + ", links=" + links);
        }
        if (ending) {
            return false;
        }
        if (put(kind, link, timeNs, bytes, offset, length)) {
            count(takenChunks, 1);
            count(takenBytes, length);
            return true;
        }
        gaps[link].add(timeNs, length);
        count(refusedChunks, 1);
        count(refusedBytes, length);
        return false;
    }

    boolean event(long atNs, String json) {
        if (ending) {
            return false;
        }
        byte[] bytes = json.getBytes(StandardCharsets.UTF_8);
        if (put(EVENT, 0, atNs, bytes, 0, bytes.length)) {
            count(takenEvents, 1);
            return true;
        }
        eventGap.add(atNs, bytes.length);
        count(refusedEvents, 1);
        return false;
    }

    /** Takes nothing more; what was put in before is still written. */
    void end() {
        ending = true;
    }

    boolean ending() {
        return ending;
    }

    /** Called by the worker when it gives up: from here on everything is lost and counted. */
    void stop() {
        stopped = true;
    }

    long refusedChunks() {
        return refusedChunks.get();
    }

    long refusedBytes() {
        return refusedBytes.get();
    }

    long refusedEvents() {
        return refusedEvents.get();
    }

    long takenChunks() {
        return takenChunks.get();
    }

    long takenBytes() {
        return takenBytes.get();
    }

    long takenEvents() {
        return takenEvents.get();
    }

    /** Writes what an overflow at the very end left behind; only after the ring has been read to its end. */
    void writeOpenGaps(RecordingWriter writer) throws IOException {
        for (byte[] link : waitingLinks) {
            writer.addLinkBlock(link);
        }
        waitingLinks.clear();
        for (int link = 0; link < links; link++) {
            if (gaps[link].items > 0) {
                writer.event(gaps[link].firstNs, gaps[link].chunkJson(link));
            }
        }
        if (eventGap.items > 0) {
            writer.event(eventGap.firstNs, StationEvents.eventGap(eventGap.items));
        }
    }

    private boolean put(int kind, int link, long timeNs, byte[] bytes, int offset, int length) {
        if (stopped || (losing && !recover())) {
            return false;
        }
        losing = !ring.offer(kind, link, timeNs, bytes, offset, length);
        return !losing;
    }

    /** Writes the gaps once half of the ring is free; false while it is not. */
    private boolean recover() {
        if (ring.freeBytes() < ring.capacityBytes() / 2 || !putWaitingLinks()) {
            return false;
        }
        for (int link = 0; link < links; link++) {
            if (gaps[link].items > 0 && !putGap(CHUNK_GAP, gaps[link], gaps[link].chunkJson(link))) {
                return false;
            }
        }
        return eventGap.items == 0 || putGap(EVENT_GAP, eventGap, StationEvents.eventGap(eventGap.items));
    }

    private boolean putGap(int kind, Gap gap, String json) {
        byte[] bytes = json.getBytes(StandardCharsets.UTF_8);
        if (!ring.offer(kind, 0, gap.firstNs, bytes, 0, bytes.length)) {
            return false;
        }
        count(takenEvents, 1);
        gap.clear();
        return true;
    }

    private boolean putWaitingLinks() {
        while (!waitingLinks.isEmpty()) {
            byte[] block = waitingLinks.getFirst();
            if (!ring.offer(LINK, 0, 0, block, 0, block.length)) {
                return false;
            }
            waitingLinks.removeFirst();
        }
        return true;
    }

    private void growGaps() {
        int before = gaps.length;
        gaps = Arrays.copyOf(gaps, links);
        for (int i = before; i < links; i++) {
            gaps[i] = new Gap();
        }
    }

    /** One thread writes each counter, so that no locked instruction is needed. */
    private static void count(AtomicLong counter, long more) {
        counter.lazySet(counter.get() + more);
    }
}
