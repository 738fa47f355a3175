package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.model.Boundaries;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.Limb;
import io.heldmark.record.RecordingException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LaterMovesTest {
    private static final ChannelInfo CHANNEL =
            new ChannelInfo(1, "serial:x", "cell", 0, "right", Limb.RIGHT, 1000, 0, 0, "N", "station", 0.002, 0.1);

    @TempDir
    Path folder;

    private static Contraction contraction(Revision revision, long onsetNs) {
        return new Contraction(
                7,
                revision,
                1,
                Limb.RIGHT,
                onsetNs,
                1e6,
                onsetNs + 3_000_000_000L,
                onsetNs + 3_500_000_000L,
                0,
                List.of(),
                List.of());
    }

    private static Review review(Contraction automatic, @Nullable Contraction manual) {
        return new Review(CHANNEL, automatic, manual, null, 0, null, true, false);
    }

    @Test
    void shouldKeepTheLastWordOfEachContraction() throws Exception {
        Path recording = folder.resolve("2026-01-01T000000.pcapng");
        LaterMoves later = LaterMoves.beside(recording);
        Contraction found = contraction(Revision.FINAL, 10);
        Contraction other = contraction(Revision.FINAL, 20);
        later.put(review(found, contraction(Revision.MANUAL, 11)), "2026-01-02T00:00:00Z");
        later.put(review(found, contraction(Revision.MANUAL, 12)), "2026-01-02T00:00:01Z");
        later.put(review(other, null), "2026-01-02T00:00:02Z");
        assertTrue(Files.exists(folder.resolve("2026-01-01T000000.boundaries.json")));

        LaterMoves read = LaterMoves.beside(recording);
        BoundaryChange move = read.of(found);
        assertNotNull(move);
        assertEquals(new Boundaries(12, 3_000_000_012L, 3_500_000_012L), move.to());
        assertEquals(List.of(1, 10L), List.of(move.channel(), move.automaticOnsetNs()));
        assertNull(read.of(other), "what the station found holds");
        assertTrue(read.has(1, 20), "and goes before a move of the session");
        assertFalse(read.has(0, 10));
        assertNull(read.of(contraction(Revision.FINAL, 30)));
    }

    @Test
    void shouldSayWhatIsInForceAndWhatFitsNoContraction() throws Exception {
        Path recording = folder.resolve("a.pcapng");
        assertEquals(List.of(), LaterMoves.beside(recording).notes());
        LaterMoves later = LaterMoves.beside(recording);
        Contraction found = contraction(Revision.FINAL, 10);
        later.put(review(found, contraction(Revision.MANUAL, 11)), "");
        later.put(review(contraction(Revision.FINAL, 20), contraction(Revision.MANUAL, 21)), "");
        LaterMoves read = LaterMoves.beside(recording);
        read.of(found);
        assertEquals(
                List.of(
                        "Boundaries that were moved after the session are in force: 1 of 2 contractions in a.boundaries.json.",
                        "The others begin elsewhere now, or are not found; their boundaries are those that were found."),
                read.notes());
    }

    @Test
    void shouldHoldInASessionThatNobodyKeeps() throws Exception {
        LaterMoves none = LaterMoves.none();
        assertEquals(List.of(), none.notes());
        LaterMoves later = LaterMoves.beside(folder.resolve("gone").resolve("a.pcapng"));
        Contraction found = contraction(Revision.FINAL, 10);
        assertThrows(IOException.class, () -> later.put(review(found, contraction(Revision.MANUAL, 11)), ""));
        assertNotNull(later.of(found), "it holds all the same");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "moves",
                "[]",
                "{\"schema\":\"heldmark.boundaries/2\",\"moves\":[]}",
                "{\"schema\":\"heldmark.boundaries/1\"}",
                "{\"schema\":\"heldmark.boundaries/1\",\"moves\":[{\"channel\":0}]}",
                "{\"schema\":\"heldmark.boundaries/1\",\"moves\":[{\"channel\":0,\"automaticOnsetNs\":1,\"onsetNs\":1.5}]}",
            })
    void shouldRefuseWhatIsNotOursInOneLine(String text) throws Exception {
        Path recording = folder.resolve("a.pcapng");
        Files.writeString(LaterMoves.fileOf(recording), text);
        String told = assertThrows(RecordingException.class, () -> LaterMoves.beside(recording))
                .getMessage();
        assertTrue(told != null && !told.contains("\n") && told.contains("a.boundaries.json"), told);
    }
}
