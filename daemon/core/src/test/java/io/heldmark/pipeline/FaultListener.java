package io.heldmark.pipeline;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroState;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** What a station said in a session full of faults, as far as it is judged. */
final class FaultListener implements StationListener {
    final List<Contraction> finals = new ArrayList<>();
    final Map<String, LinkHealth> health = new HashMap<>();
    final Map<Integer, String> zeros = new HashMap<>();
    List<ChannelInfo> channels = List.of();

    @Override
    public void onChannels(List<ChannelInfo> all, List<TraceFilter> filters, long atNs) {
        channels = all;
    }

    @Override
    public void onContraction(Contraction contraction) {
        if (contraction.revision() == Revision.FINAL) {
            finals.add(contraction);
        }
    }

    @Override
    public void onLinkHealth(LinkHealth link) {
        health.put(link.link(), link);
    }

    @Override
    public void onZero(ZeroState zero) {
        zeros.put(zero.channel(), zero.state());
    }
}
