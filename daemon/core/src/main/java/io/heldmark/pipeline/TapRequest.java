package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Finds the two cells that a request to align by a knock means, or says why there are none. */
final class TapRequest {
    private static final String NEED = "A left and a right cell are needed, each calibrated and on a link of its own.";

    private final List<ChannelPath> channels;
    private final LinkPath[] links;

    TapRequest(List<ChannelPath> channels, LinkPath[] links) {
        this.channels = channels;
        this.links = links;
    }

    /** Begins the wait, or has it refused. */
    void begin(List<Integer> wanted, TapDesk taps, long atNs) {
        TapDesk.Cell left = wanted.size() == 2 ? cell(wanted.get(0)) : wanted.isEmpty() ? cell(Limb.LEFT) : null;
        TapDesk.Cell right = wanted.size() == 2 ? cell(wanted.get(1)) : wanted.isEmpty() ? cell(Limb.RIGHT) : null;
        if (left == null || right == null) {
            taps.refuse(NEED);
        } else if (left.link() == right.link()) {
            taps.refuse("Both cells hang on one device and share its clock: there is nothing to align.");
        } else {
            taps.listen(new TapDesk.Pair(left, right), atNs);
        }
    }

    private TapDesk.@Nullable Cell cell(Limb limb) {
        for (ChannelPath channel : channels) {
            ChannelInfo info = channel.info();
            if (info.limb() == limb && !info.link().startsWith("virtual:")) {
                return cell(info.channel());
            }
        }
        return null;
    }

    private TapDesk.@Nullable Cell cell(int number) {
        if (number < 0 || number >= channels.size()) {
            return null;
        }
        ChannelPath channel = channels.get(number);
        for (LinkPath link : links) {
            SampleClock clock = link.clock();
            boolean mine = link.setup().name().equals(channel.info().link());
            if (mine && clock != null && channel.info().unit().equals("N")) {
                return new TapDesk.Cell(channel, link, clock);
            }
        }
        return null;
    }
}
