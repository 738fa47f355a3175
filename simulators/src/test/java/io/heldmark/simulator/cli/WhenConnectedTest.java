package io.heldmark.simulator.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.sender.Port;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class WhenConnectedTest {
    /** Keeps what is written to it. */
    private static final class Kept implements Port {
        private final List<byte[]> written = new ArrayList<>();

        @Override
        public String address() {
            return "kept";
        }

        @Override
        public int write(byte[] bytes, int offset, int length) {
            written.add(Arrays.copyOfRange(bytes, offset, offset + length));
            return length;
        }

        @Override
        public int read(byte[] into) {
            return 0;
        }

        @Override
        public void takeDown() {
            throw new UnsupportedOperationException();
        }

        @Override
        public void bringUp() {
            throw new UnsupportedOperationException();
        }

        @Override
        public void close() {
            // Holds nothing.
        }
    }

    @Test
    void shouldShowDescribeBeforeTimeBegins() {
        Kept left = new Kept();
        Kept right = new Kept();
        SimulateCommand.show(Scenario.bundled("demo").withGatt(), List.of(left, right));
        assertEquals(1, left.written.size());
        assertEquals(1, right.written.size());
        byte[] first = left.written.get(0);
        assertEquals(first.length - 2, (first[0] & 0xFF) | (first[1] & 0xFF) << 8, "one value, its length before it");
        assertEquals(0x57, first[2], "of the characteristic describe (specification, GATT binding)");
    }
}
