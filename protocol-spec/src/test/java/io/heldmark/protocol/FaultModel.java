package io.heldmark.protocol;

import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;

/**
 * A damaged stream with the counters that its damage must give, worked out while it is made and without decoding. One
 * seed gives one stream.
 */
final class FaultModel {
    final ByteArrayOutputStream stream = new ByteArrayOutputStream();
    final Map<String, Long> expected = new TreeMap<>();
    /** Sequence numbers of the samples messages that must be handed on. */
    final List<Integer> taken = new ArrayList<>();

    private final Random random;
    private final MessageEncoder encoder;
    private final boolean text;
    private final byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];
    private final int[] counts = new int[62];
    private int newest = -1;

    FaultModel(long seed, boolean text) {
        random = new Random(seed);
        this.text = text;
        encoder = text ? new TextEncoder() : new ByteStreamEncoder();
    }

    /** Adds frames 0 to {@code frames} - 1, some of them lost, damaged, late or doubled, with noise in between. */
    FaultModel run(int frames) {
        for (int n = 0; n < frames; n++) {
            switch (random.nextInt(20)) {
                case 0 -> {} // Lost.
                case 1 -> damaged(n);
                case 2 -> {
                    frame(n);
                    frame(n); // Twice.
                }
                case 3 -> {
                    frame(n + 1);
                    frame(n++); // Late.
                }
                case 4 -> {
                    noise();
                    frame(n);
                }
                case 5 -> {
                    idle();
                    frame(n);
                }
                default -> frame(n);
            }
        }
        return this;
    }

    private byte[] encode(int n) {
        int samples = text ? 1 : 1 + random.nextInt(31);
        for (int i = 0; i < counts.length; i++) {
            counts[i] = random.nextInt(1 << 24) - (1 << 23);
        }
        int length = encoder.samples(n & 0xFFFF, n * 100L & 0xFFFF_FFFFL, 0, 3, samples, counts, 0, 3, out, 0);
        return Arrays.copyOf(out, length);
    }

    private void frame(int n) {
        byte[] wire = encode(n);
        add(wire, "messageBytes");
        if (newest >= 0 && n == newest) {
            // The content differs, but sequence and tick are what counts.
            count("duplicates", 1);
        } else if (n < newest) {
            count("reordered", 1);
        } else {
            if (newest >= 0 && n > newest + 1) {
                count("gaps", 1);
                count("missingFrames", n - newest - 1);
            }
            newest = n;
            taken.add(n & 0xFFFF);
            count("messages", 1);
            count("sampleFrames", 1);
        }
    }

    /** One bit of the frame changes, so that it stays one frame. A CRC finds every such change after unstuffing. */
    private void damaged(int n) {
        byte[] wire = encode(n);
        int end = text ? '\n' : 0;
        int limit = text ? wire.length - 6 : wire.length - 1; // Text: before the check, or it is another failure.
        while (true) {
            int at = random.nextInt(limit);
            int changed = (wire[at] ^ (1 << random.nextInt(text ? 4 : 8))) & 0xFF;
            boolean plain = !text || (changed >= ' ' && changed <= '~' && changed != '*' && changed != '#');
            if (changed != end && plain) {
                wire[at] = (byte) changed;
                break;
            }
        }
        add(wire, "skippedBytes");
        count("crcFailures", 1);
    }

    /** Noise that ends in a delimiter of its own and cannot be taken for a frame. */
    private void noise() {
        byte[] noise = new byte[2 + random.nextInt(900)];
        random.nextBytes(noise);
        byte end = (byte) (text ? '\n' : 0);
        for (int i = 0; i < noise.length; i++) {
            if (noise[i] == end) {
                noise[i] = 1;
            }
        }
        noise[0] = (byte) (text ? 0xFE : 0xFF); // Not printable; a block that reaches past any end below 255.
        noise[noise.length - 1] = end;
        boolean tooLong = noise.length - 1 > (text ? Wire.MAX_LINE_BYTES : Wire.MAX_STUFFED_BYTES);
        add(noise, "skippedBytes");
        count(tooLong ? "oversized" : text ? "malformed" : "crcFailures", 1);
    }

    private void idle() {
        String line = random.nextBoolean() ? "\r\n" : "# still warming up\n";
        add(
                text ? line.getBytes(java.nio.charset.StandardCharsets.US_ASCII) : new byte[1 + random.nextInt(3)],
                "idleBytes");
    }

    private void add(byte[] bytes, String account) {
        stream.writeBytes(bytes);
        count("bytes", bytes.length);
        count(account, bytes.length);
    }

    private void count(String counter, long amount) {
        expected.merge(counter, amount, Long::sum);
    }
}
