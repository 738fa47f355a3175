package io.heldmark.detect;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Limb;
import io.heldmark.model.Window;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;

/** Writes down all that a detector tells, a line an event, so that two ways to the same can be compared to the bit. */
class ToldLines implements ContractionDetector.Listener {
    private final List<String> lines = new ArrayList<>();

    /** Returns a detector of one left channel of an invented cell that tells its events here. */
    ContractionDetector detector(DetectorConfig config, int rateHz) {
        ChannelInfo channel = new ChannelInfo(
                0, "link", "device", 0, "left", Limb.LEFT, rateHz, 0, 1000, "N", "factory", 0.002, 0.001);
        AtomicLong id = new AtomicLong();
        return new ContractionDetector(config, channel, id::incrementAndGet, this);
    }

    List<String> lines() {
        return lines;
    }

    @Override
    public void onOpened(Contraction provisional, long atNs) {
        lines.add("opened " + atNs + " " + provisional);
    }

    @Override
    public void onClosed(Contraction finished, Window window, long atNs) {
        lines.add("closed " + atNs + " " + finished + " " + window.size() + " " + window.restingNoiseN());
    }

    @Override
    public void onWithdrawn(Contraction withdrawn, long atNs) {
        lines.add("withdrawn " + atNs + " " + withdrawn);
    }
}
