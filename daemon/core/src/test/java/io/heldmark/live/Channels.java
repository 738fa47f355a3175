package io.heldmark.live;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.model.TraceFilter;
import java.util.ArrayList;
import java.util.List;

/** Invented channels. */
final class Channels {
    private Channels() {}

    /** Returns a channel of each of these rates. */
    static List<ChannelInfo> of(double... ratesHz) {
        List<ChannelInfo> all = new ArrayList<>();
        for (double rateHz : ratesHz) {
            all.add(new ChannelInfo(
                    all.size(),
                    "tcp:cell:1",
                    "a",
                    all.size(),
                    "pull",
                    Limb.LEFT,
                    rateHz,
                    0,
                    2000,
                    "N",
                    "factory",
                    0.002,
                    0.01));
        }
        return all;
    }

    static void tell(LiveFanout live, double... ratesHz) {
        List<ChannelInfo> all = of(ratesHz);
        live.onChannels(all, all.stream().map(c -> TraceFilter.NONE).toList());
    }
}
