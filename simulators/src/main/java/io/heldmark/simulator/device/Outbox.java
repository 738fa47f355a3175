package io.heldmark.simulator.device;

import io.heldmark.protocol.ByteStreamEncoder;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattEncoder;
import io.heldmark.protocol.MessageEncoder;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.Status;
import io.heldmark.protocol.TextEncoder;
import io.heldmark.protocol.Wire;
import io.heldmark.simulator.link.Frame;
import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.Nonconformity;
import java.util.Arrays;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;

/** Puts a device's messages into their wire form and hands them to the link. */
final class Outbox {
    private static final double BURSTS_HZ = 5;

    private final CellSpec.Binding binding;
    private final MessageEncoder encoder;
    private final Consumer<Frame> link;
    private final byte[] wire = new byte[Wire.MAX_MESSAGE_BYTES];
    private final WireBreach breach;
    private final boolean inBursts;
    private long number;

    Outbox(CellSpec cell, Consumer<Frame> link) {
        binding = cell.binding();
        breach = new WireBreach(binding, cell.nonconforming());
        inBursts = cell.nonconforming() == Nonconformity.SAMPLES_PROMPT;
        encoder = switch (binding) {
            case BYTES -> new ByteStreamEncoder();
            case TEXT -> cell.textChecks() ? new TextEncoder() : TextEncoder.withoutChecks();
            case GATT -> new GattEncoder();
        };
        this.link = link;
    }

    /** Sends what the binding asks of a sender that starts: the byte stream's single zero; nothing else. */
    void opening(double atS) {
        if (binding == CellSpec.Binding.BYTES) {
            hand(WireBreach.Kind.OPENING, ByteStreamEncoder.opening(wire, 0), atS, null);
        }
    }

    void describe(Describe describe, double atS) {
        hand(WireBreach.Kind.DESCRIBE, encoder.describe(describe, wire, 0), atS, null);
    }

    void status(Status status, double atS) {
        hand(WireBreach.Kind.OTHER, encoder.status(status, wire, 0), atS, null);
    }

    void reply(Reply reply, double atS) {
        hand(WireBreach.Kind.OTHER, encoder.reply(reply, wire, 0), atS, null);
    }

    void pong(int id, long receivedTick, long transmittedTick, double atS) {
        hand(WireBreach.Kind.OTHER, encoder.pong(id, receivedTick, transmittedTick, wire, 0), atS, null);
    }

    void samples(Packer packer, int sequence, int status, Frame.Samples truth, double atS) {
        int length = encoder.samples(
                sequence,
                packer.firstTick(),
                status,
                packer.channelMask(),
                packer.fill(),
                packer.counts(),
                0,
                packer.bytesPerCount(),
                wire,
                0);
        hand(WireBreach.Kind.SAMPLES, length, inBursts ? Math.ceil(atS * BURSTS_HZ) / BURSTS_HZ : atS, truth);
    }

    private void hand(WireBreach.Kind kind, int length, double atS, Frame.@Nullable Samples truth) {
        Frame.Samples carried = truth;
        for (byte[] piece : breach.apply(kind, Arrays.copyOf(wire, length))) {
            byte[] frame = binding == CellSpec.Binding.GATT ? GattValues.framed(piece, piece.length) : piece;
            link.accept(new Frame(frame, (long) Math.floor(atS * 1e9), number++, carried));
            carried = null;
        }
    }
}
