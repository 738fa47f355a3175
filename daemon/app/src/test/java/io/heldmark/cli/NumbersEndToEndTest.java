package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.heldmark.link.serial.Pty;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/**
 * A board that prints numbers, as a sketch does that was written before the protocol, on a pseudo-terminal: an ordinary serial
 * link records it, the replay finds the pull, and nothing is ever sent to the board.
 */
@EnabledOnOs(OS.LINUX)
class NumbersEndToEndTest {
    private static final JsonMapper JSON = new JsonMapper();
    private static final int PERIOD_MS = 10;

    @TempDir
    Path folder;

    @Test
    void shouldMeasureAPullOnABoardThatPrintsNumbers() throws Exception {
        String data = folder.resolve("data").toString();
        AtomicInteger received = new AtomicInteger();
        AtomicBoolean over = new AtomicBoolean();
        try (Pty board = new Pty()) {
            Thread prints = thread(() -> print(board, over));
            thread(() -> listen(board, received, over));
            Cli.Result recorded = Cli.run(
                    "record",
                    "--left",
                    "serial:" + board.path() + "?binding=numbers&columns=-,pull:kg&rate=100",
                    "--zero-when-quiet",
                    "--duration",
                    "12",
                    "--data",
                    data);
            over.set(true);
            prints.join();
            assertEquals(0, recorded.code(), recorded.err());
        }
        assertEquals(0, received.get(), "nothing may be sent to a board that does not know the protocol");
        check(Cli.run("replay", recording(data), "--json"));
    }

    private static Thread thread(Runnable work) {
        Thread thread = new Thread(work);
        thread.setDaemon(true);
        thread.start();
        return thread;
    }

    private static void listen(Pty board, AtomicInteger received, AtomicBoolean over) {
        byte[] buffer = new byte[256];
        while (!over.get()) {
            received.addAndGet(Math.max(0, board.read(buffer))); // Waits; -1 at once while nobody has it open.
        }
    }

    /** Rests at 0.4 kg for five seconds, pulls 20.4 kg for three, and rests again; a line every 10 ms. */
    private static void print(Pty board, AtomicBoolean over) {
        try {
            for (int i = 0; !over.get(); i++) {
                double s = i * PERIOD_MS / 1000.0;
                double rise = Math.min(1, Math.max(0, (s - 5) / 0.3)) - Math.min(1, Math.max(0, (s - 8) / 0.3));
                // A little noise, as every converter has: without any the resting level has no spread.
                double kg = 0.4 + 20 * rise + 0.01 * ((i * 7) % 5 - 2);
                board.write(String.format(Locale.ROOT, "t=%d, %.2f\r\n", i, kg).getBytes(StandardCharsets.US_ASCII));
                Thread.sleep(PERIOD_MS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static void check(Cli.Result replay) throws Exception {
        assertEquals(0, replay.code(), replay.err());
        boolean said = false;
        double peakN = 0;
        for (String text : replay.lines()) {
            JsonNode event = JSON.readTree(text);
            said |= event.path("reason").asText().startsWith("it prints numbers only: ");
            for (JsonNode metric : event.path("metrics")) {
                if (event.path("type").asText().equals("contraction")
                        && metric.path("id").asText().equals("force.peak")) {
                    peakN = Math.max(peakN, metric.path("value").asDouble());
                }
            }
        }
        assertTrue(said, replay.out());
        // 20 kg more than at rest, at standard gravity: 20 x 9.80665 N = 196.1 N; noise of up to 0.2 N on top.
        assertEquals(196.1, peakN, 0.5, replay.out());
    }

    private static String recording(String data) throws Exception {
        try (Stream<Path> files = Files.walk(Path.of(data))) {
            return files.filter(file -> file.toString().endsWith(".pcapng"))
                    .findFirst()
                    .orElseThrow()
                    .toString();
        }
    }
}
