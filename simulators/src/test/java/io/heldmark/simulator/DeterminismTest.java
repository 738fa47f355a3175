package io.heldmark.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.truth.CellTruth;
import io.heldmark.simulator.truth.TruthDocument;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class DeterminismTest {
    static List<String> names() {
        return Scenario.BUNDLED;
    }

    @ParameterizedTest
    @MethodSource("names")
    void shouldGiveTheSameBytesTimesAndTruthForTheSameSeed(String name) throws NoSuchAlgorithmException {
        Scenario scenario = Scenario.bundled(name).withAutostart().withDurationS(40);
        assertEquals(hash(scenario), hash(scenario));
    }

    @Test
    void shouldGiveOtherBytesForAnotherSeed() throws NoSuchAlgorithmException {
        Scenario scenario = Scenario.bundled("demo").withAutostart().withDurationS(5);
        assertNotEquals(hash(scenario), hash(scenario.withSeed(2)));
    }

    /**
     * Bytes and times of this seed, pinned: a change of the model or of the random streams is seen, and belongs into the
     * change log, because stored results of old scenarios change with it.
     */
    @Test
    void shouldKeepTheBytesOfASeed() throws NoSuchAlgorithmException {
        MessageDigest digest = MessageDigest.getInstance("SHA-256");
        VirtualCell cell = new VirtualCell(Scenario.bundled("faults").withAutostart(), 0);
        digestBytes(cell, digest);
        assertEquals("eecbde1eafb36e26", HexFormat.of().formatHex(digest.digest(), 0, 8));
    }

    private static void digestBytes(VirtualCell cell, MessageDigest digest) {
        while (cell.advance()) {
            digest.update(ByteBuffer.allocate(8).putLong(cell.dueNs()).array());
            digest.update(cell.bytes(), 0, cell.length());
        }
    }

    private static String hash(Scenario scenario) throws NoSuchAlgorithmException {
        MessageDigest digest = MessageDigest.getInstance("SHA-256");
        List<CellTruth> truths = new ArrayList<>();
        for (int i = 0; i < scenario.cells().size(); i++) {
            VirtualCell cell = new VirtualCell(scenario, i);
            digestBytes(cell, digest);
            truths.add(cell.truth());
        }
        digest.update(TruthDocument.write(scenario, truths, Map.of()).getBytes(StandardCharsets.UTF_8));
        return HexFormat.of().formatHex(digest.digest(), 0, 8);
    }
}
