package io.heldmark.link.ble.tinyb;

import io.heldmark.link.Link;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.link.ble.BleLinks;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.DecoderCounters;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.protocol.MessageHandler;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * Streams from one cell through TinyB and prints what it counted; a program of its own because TinyB takes the address of its bus
 * from the environment.
 */
final class TinybProbe {
    private TinybProbe() {}

    /** Arguments: the cell's address, messages to wait for. */
    public static void main(String[] arguments) throws Exception {
        int wanted = Integer.parseInt(arguments[1]);
        CountDownLatch described = new CountDownLatch(1);
        CountDownLatch enough = new CountDownLatch(1);
        GattDecoder decoder = new GattDecoder(new MessageHandler() {
            @Override
            public void onDescribe(Describe describe) {
                described.countDown();
            }
        });
        LinkListener listener = new LinkListener() {
            @Override
            public void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
                decoder.accept(bytes, offset, length);
                if (decoder.counters().sampleFrames >= wanted) {
                    enough.countDown();
                }
            }

            @Override
            public void onState(LinkState state, String reason, long atNs) {
                System.err.println(state + " " + reason);
            }
        };
        try (Link link = BleLinks.through(TinybCentral.start(), arguments[0])) {
            link.start(listener);
            require(described, "describe");
            byte[] out = new byte[16];
            link.send(out, 0, new GattEncoder().command(new Command(Command.START, 1, new byte[0]), out, 0));
            require(enough, "samples");
            DecoderCounters c = decoder.counters();
            System.out.println("gaps " + c.gaps + " malformed " + c.malformed + " late " + c.reordered);
        }
    }

    private static void require(CountDownLatch latch, String what) throws InterruptedException {
        if (!latch.await(60, TimeUnit.SECONDS)) {
            throw new IllegalStateException("no " + what + " came");
        }
    }
}
