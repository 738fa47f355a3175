package io.heldmark.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A program that is killed while it records loses at most the last half second, and never the file. By default 5 runs;
 * {@code -Dheldmark.killRuns=50} makes 50.
 */
class KillTest {
    private static final long MS = 1_000_000;
    private static final long PROMISE_NS = 500 * MS;

    @TempDir
    Path folder;

    /** What a killed child had told: its chunks' hand-over times by number, and the last one. */
    private record Account(List<Long> handedOverNs) {
        long lastNs() {
            return handedOverNs.get(handedOverNs.size() - 1);
        }
    }

    @Test
    void shouldLoseAtMostTheLastHalfSecondWheneverItIsKilled() throws Exception {
        int runs = Integer.getInteger("heldmark.killRuns", 5);
        Random random = new Random(4);
        long worstLossNs = 0;
        for (int run = 0; run < runs; run++) {
            Path file = folder.resolve("killed-" + run + ".pcapng");
            int afterItems = 1 + random.nextInt(2_000);
            Account account = recordAndKill(file, afterItems);
            worstLossNs = Math.max(worstLossNs, lossNs(file, account, run));
        }
        System.out.println("killed " + runs + " times; the oldest chunk lost was handed over " + worstLossNs / MS
                + " ms before the last sign of life");
    }

    /** Starts a child, lets it hand over so many chunks, kills it with SIGKILL and reads the rest of its account. */
    private static Account recordAndKill(Path file, int afterItems) throws IOException, InterruptedException {
        String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
        ProcessBuilder builder = new ProcessBuilder(
                java,
                "-Xmx96m",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                KillChild.class.getName(),
                file.toString());
        builder.redirectError(ProcessBuilder.Redirect.INHERIT);
        Process child = builder.start();
        List<Long> handedOverNs = new ArrayList<>();
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(child.getInputStream(), StandardCharsets.US_ASCII))) {
            String line = out.readLine();
            while (line != null) {
                int space = line.indexOf(' ');
                if (space > 0 && Long.parseLong(line.substring(0, space)) == handedOverNs.size()) {
                    handedOverNs.add(Long.parseLong(line.substring(space + 1)));
                }
                if (handedOverNs.size() == afterItems) {
                    child.toHandle().destroyForcibly(); // Unlike the process's own, this leaves the account open.
                }
                line = out.readLine();
            }
        } finally {
            child.destroyForcibly().waitFor();
        }
        assertTrue(handedOverNs.size() >= afterItems, "the child ended by itself");
        assertEquals(137, child.exitValue(), "128 + SIGKILL");
        return new Account(handedOverNs);
    }

    /** Opens what is left, checks it, and returns how long before the last sign of life the first lost chunk was. */
    private static long lossNs(Path file, Account account, int run) throws RecordingException {
        List<Long> handedOverNs = account.handedOverNs();
        if (!file.toFile().exists() || file.toFile().length() == 0) {
            long lifeNs = account.lastNs() - handedOverNs.get(0);
            assertTrue(lifeNs < PROMISE_NS, "run " + run + ": no file after " + lifeNs / MS + " ms");
            return lifeNs;
        }
        int next = 0;
        try (RecordingReader reader = RecordingReader.open(file)) {
            assertFalse(reader.complete());
            RecordedItem item = new RecordedItem();
            while (reader.next(item)) {
                if (item.kind() == RecordedItem.Kind.CHUNK) {
                    long number = ByteBuffer.wrap(item.bytes(), item.offset(), item.length())
                            .getLong();
                    assertEquals(next, number, "run " + run + ": in order and without a hole");
                    next++;
                }
            }
            assertTrue(
                    reader.notes().get(0).contains("it was repaired"),
                    reader.notes().get(0));
            assertEquals(1, reader.notes().size(), () -> String.valueOf(reader.notes()));
        }
        if (next >= handedOverNs.size()) {
            return 0;
        }
        long lossNs = account.lastNs() - handedOverNs.get(next);
        assertTrue(lossNs <= PROMISE_NS, "run " + run + ": lost what was handed over " + lossNs / MS + " ms before");
        return lossNs;
    }
}
