package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** Which saved calibration a channel uses, by the rule of {@link ChannelFactory}. Any thread. */
final class CalibrationsInUse {
    private final List<LinkSetup> links = new CopyOnWriteArrayList<>();

    CalibrationsInUse(List<LinkSetup> setups) {
        links.addAll(setups);
    }

    /** Takes one that was chosen within the session. */
    void put(BoundCalibration chosen) {
        links.replaceAll(link -> link.choosing(chosen));
    }

    /** Returns its id; empty where the channel uses none. */
    String of(ChannelInfo channel) {
        if (!channel.calibration().equals("station")) {
            return "";
        }
        for (LinkSetup link : links) {
            if (link.name().equals(channel.link())) {
                BoundCalibration bound = ChannelFactory.bound(link, channel.deviceId(), channel.deviceChannel());
                return bound == null ? "" : bound.id();
            }
        }
        return "";
    }
}
