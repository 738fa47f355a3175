package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.TraceFilter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The newest state of channels and links, for whoever asks from another thread. */
final class StationView implements StationListener {
    private final Map<String, LinkHealth> health = new LinkedHashMap<>();
    private volatile List<ChannelInfo> channels = List.of();

    @Override
    public void onChannels(List<ChannelInfo> next, List<TraceFilter> traceFilters, long atNs) {
        channels = List.copyOf(next);
    }

    @Override
    public void onLinkHealth(LinkHealth next) {
        synchronized (health) {
            health.put(next.link(), next);
        }
    }

    List<ChannelInfo> channels() {
        return channels;
    }

    List<LinkHealth> linkHealth() {
        synchronized (health) {
            return new ArrayList<>(health.values());
        }
    }
}
