package io.heldmark.record;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

/** Recordings for tests: invented links, random items and their comparison. */
final class Recordings {
    static final LinkHeader LEFT = new LinkHeader(
            "serial:/dev/ttyUSB0?baud=115200",
            "AUTO",
            "{\"limb\":\"left\",\"slope\":0.0100,\"zero\":120,\"u\":2e-3,\"note\":\"Größe ✓\"}");
    static final LinkHeader RIGHT = new LinkHeader("tcp:localhost:9000", "TEXT", "{}");
    static final String SETTINGS = "{\"display.cutoffHz\":20.50,\"invented\":true}";

    private Recordings() {}

    /** A packet that keeps its own bytes, to compare with. */
    record Packet(RecordedItem.Kind kind, int link, long timeNs, List<Byte> payload) {
        static Packet of(RecordedItem item) {
            byte[] bytes = Arrays.copyOfRange(item.bytes(), item.offset(), item.offset() + item.length());
            return of(item.kind(), item.link(), item.timeNs(), bytes);
        }

        static Packet of(RecordedItem.Kind kind, int link, long timeNs, byte[] bytes) {
            List<Byte> payload = new ArrayList<>(bytes.length);
            for (byte b : bytes) {
                payload.add(b);
            }
            return new Packet(kind, link, timeNs, payload);
        }

        byte[] bytes() {
            byte[] bytes = new byte[payload.size()];
            for (int i = 0; i < bytes.length; i++) {
                bytes[i] = payload.get(i);
            }
            return bytes;
        }

        String text() {
            return new String(bytes(), java.nio.charset.StandardCharsets.UTF_8);
        }
    }

    static RecordingHeader header(LinkHeader... links) {
        return new RecordingHeader(ManualClock.WALL_ANCHOR_NS, "0.1.0", List.of(links), SETTINGS);
    }

    /** Makes random items: chunks of both directions on two links, events, times that sometimes step back a little. */
    static List<Packet> randomItems(Random random, int count) {
        List<Packet> items = new ArrayList<>();
        long timeNs = random.nextInt(1_000_000_000);
        for (int i = 0; i < count; i++) {
            timeNs += random.nextInt(20_000_000) - 100_000;
            int pick = random.nextInt(10);
            if (pick == 0) {
                byte[] json = ("{\"event\":\"mark\",\"text\":\"" + "x".repeat(random.nextInt(40)) + "\"}")
                        .getBytes(java.nio.charset.StandardCharsets.UTF_8);
                items.add(Packet.of(RecordedItem.Kind.EVENT, -1, timeNs, json));
            } else {
                byte[] bytes = new byte[random.nextInt(random.nextInt(50) == 0 ? 9_000 : 90) + (pick == 9 ? 0 : 1)];
                random.nextBytes(bytes);
                RecordedItem.Kind kind = pick == 1 ? RecordedItem.Kind.SENT : RecordedItem.Kind.CHUNK;
                items.add(Packet.of(kind, random.nextInt(2), timeNs, bytes));
            }
        }
        return items;
    }

    static void write(RecordingWriter writer, Packet item) throws IOException {
        byte[] bytes = item.bytes();
        switch (item.kind()) {
            case CHUNK -> writer.chunk(item.link(), item.timeNs(), bytes, 0, bytes.length);
            case SENT -> writer.sent(item.link(), item.timeNs(), bytes, 0, bytes.length);
            case EVENT -> writer.event(item.timeNs(), bytes, bytes.length);
        }
    }

    /** Writes a recording of two links; with a proper end or as after a crash. */
    static void write(Path file, List<Packet> items, boolean ended) throws IOException {
        try (RecordingWriter writer = RecordingWriter.create(file, header(LEFT, RIGHT))) {
            for (Packet item : items) {
                write(writer, item);
            }
            if (ended) {
                writer.end(0, 0, 0, 0);
            }
        }
    }

    /** Reads everything that a reader still gives. */
    static List<Packet> readAll(RecordingReader reader) throws RecordingException {
        List<Packet> items = new ArrayList<>();
        RecordedItem item = new RecordedItem();
        while (reader.next(item)) {
            items.add(Packet.of(item));
        }
        return items;
    }
}
