package io.heldmark.simulator;

import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.Reply;
import io.heldmark.protocol.SamplesView;
import io.heldmark.protocol.Status;
import io.heldmark.protocol.StreamDecoder;
import io.heldmark.protocol.TextDecoder;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.Scenario;
import java.util.ArrayList;
import java.util.List;

/** Drains a virtual cell through the codec and keeps what came out. */
final class Reader implements MessageHandler {
    /** One samples message and when it arrived. */
    @SuppressWarnings("ArrayRecordComponent") // Made for one test; equality is never asked of it.
    record Message(long dueNs, int sequence, long tick, int status, int[][] counts) {}

    /** One pong and when it arrived. */
    record Pong(long dueNs, int id, long receivedTick, long transmittedTick) {}

    final VirtualCell cell;
    final StreamDecoder decoder;
    final List<Message> messages = new ArrayList<>();
    final List<Describe> describes = new ArrayList<>();
    final List<Status> statuses = new ArrayList<>();
    final List<Reply> replies = new ArrayList<>();
    final List<Pong> pongs = new ArrayList<>();
    final List<VirtualCell.Kind> linkChanges = new ArrayList<>();
    int chunks;
    int unaligned;

    Reader(Scenario scenario, int index) {
        cell = new VirtualCell(scenario, index);
        boolean text = scenario.cells().get(index).binding() == CellSpec.Binding.TEXT;
        decoder = text ? new TextDecoder(this) : new ByteStreamDecoder(this);
    }

    /** Reads until the cell ends. */
    Reader drain() {
        return drainTo(Long.MAX_VALUE - 1);
    }

    /** Reads what is due up to a time. */
    Reader drainTo(long untilNs) {
        long lastNs = cell.dueNs();
        while (cell.nextDueNs() <= untilNs && cell.advance()) {
            if (cell.dueNs() < lastNs) {
                throw new AssertionError("went back in time: " + cell.dueNs() + " after " + lastNs);
            }
            lastNs = cell.dueNs();
            if (cell.kind() != VirtualCell.Kind.DATA) {
                linkChanges.add(cell.kind());
                decoder.reset();
                continue;
            }
            chunks++;
            unaligned += cell.bytes()[cell.length() - 1] == 0 ? 0 : 1;
            decoder.accept(cell.bytes(), 0, cell.length());
        }
        return this;
    }

    int samples() {
        return messages.stream().mapToInt(message -> message.counts().length).sum();
    }

    @Override
    public void onSamples(SamplesView view) {
        int[][] counts = new int[view.sampleCount()][view.channelCount()];
        for (int i = 0; i < counts.length; i++) {
            for (int c = 0; c < counts[i].length; c++) {
                counts[i][c] = view.counts(i, c);
            }
        }
        messages.add(new Message(cell.dueNs(), view.sequence(), view.tick(), view.status(), counts));
    }

    @Override
    public void onDescribe(Describe describe) {
        describes.add(describe);
    }

    @Override
    public void onStatus(Status status) {
        statuses.add(status);
    }

    @Override
    public void onReply(Reply reply) {
        replies.add(reply);
    }

    @Override
    public void onPong(int id, long receivedTick, long transmittedTick) {
        pongs.add(new Pong(cell.dueNs(), id, receivedTick, transmittedTick));
    }
}
