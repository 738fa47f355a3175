package io.heldmark.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.function.Function;
import org.junit.jupiter.api.Test;

class BindingProbeTest {
    private final byte[] out = new byte[Wire.MAX_MESSAGE_BYTES];

    @Test
    void shouldReachAByteStreamDeviceAndSpoilNothingAfterIt() {
        assertReaches(ByteStreamDecoder::new, new ByteStreamEncoder(), 0);
    }

    @Test
    void shouldReachATextDeviceAndSpoilNothingAfterALineFeed() {
        assertReaches(TextDecoder::new, new TextEncoder(), 1);
    }

    private void assertReaches(
            Function<MessageHandler, StreamDecoder> decoderOf, MessageEncoder encoder, int lineFeeds) {
        for (int token = 0; token < 256; token++) {
            Transcript seen = new Transcript();
            StreamDecoder device = decoderOf.apply(seen);
            int length = BindingProbe.describe(token, out, 0);
            assertTrue(length < 64);
            device.accept(out, 0, length);
            device.accept(out, 0, BindingProbe.describe(token, out, 0)); // Repeated, as after a second without answer.
            device.accept(new byte[] {'\n'}, 0, lineFeeds);
            device.accept(out, 0, encoder.ping(token, out, 0));
            String command = "command 1 " + token + " ";
            assertEquals(List.of(command, command, "ping " + token), seen.lines);
        }
    }
}
