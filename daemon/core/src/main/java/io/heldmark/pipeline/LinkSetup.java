package io.heldmark.pipeline;

import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.model.Limb;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * One link of the station and what the station was told of its channels.
 *
 * @param address how the link is opened; its {@code text} without {@code #channel} is the link's name.
 * @param binding how messages are put into bytes.
 * @param channels what is known of channels beforehand; may be empty.
 * @param calibrations the station's calibrations of devices that may turn up here; of two for the same channel the first counts.
 */
public record LinkSetup(
        LinkAddress address, Link.Binding binding, List<ChannelSetup> channels, List<BoundCalibration> calibrations) {
    /** Option of an address: -3 dB bandwidth of the converters behind it, in hertz, which wins over what a device says. */
    static final String BANDWIDTH = "bandwidth";

    /** Copies the lists. */
    public LinkSetup {
        channels = List.copyOf(channels);
        calibrations = List.copyOf(calibrations);
    }

    /** Makes a setup without calibrations of devices. */
    public LinkSetup(LinkAddress address, Link.Binding binding, List<ChannelSetup> channels) {
        this(address, binding, channels, List.of());
    }

    /** Returns the same with calibrations of devices in front of those that it has. */
    public LinkSetup with(List<BoundCalibration> more) {
        List<BoundCalibration> all = new ArrayList<>(more);
        all.addAll(calibrations);
        return new LinkSetup(address, binding, channels, all);
    }

    /** Returns the -3 dB bandwidth of the converters that the address says, in hertz; 0 where it says none. */
    public double bandwidthHz() {
        String text = address.options().get(BANDWIDTH);
        return text == null ? 0 : LinkSetups.bandwidthHz(text);
    }

    /** Returns the same with a bandwidth that wins over what the address and the devices say; 0 or NaN: none. */
    public LinkSetup withBandwidth(double bandwidthHz) {
        if (!(bandwidthHz > 0)) {
            return this;
        }
        Map<String, String> options = new LinkedHashMap<>(address.options());
        options.put(BANDWIDTH, Double.toString(bandwidthHz));
        LinkAddress saying =
                new LinkAddress(address.text(), address.scheme(), address.target(), options, address.channel());
        return new LinkSetup(saying, binding, channels, calibrations);
    }

    /** Returns the same with a calibration that a person chose; re-evaluations stay before it. */
    LinkSetup choosing(BoundCalibration chosen) {
        List<BoundCalibration> all = new ArrayList<>();
        calibrations.stream().filter(BoundCalibration::overrides).forEach(all::add);
        all.add(chosen);
        calibrations.stream().filter(one -> !one.overrides()).forEach(all::add);
        return new LinkSetup(address, binding, channels, all);
    }

    /** Returns the name of the link, as the user wrote it, without the channel. */
    public String name() {
        return address.text();
    }

    /** A link address and the limb of the channel that it names. */
    public record Wanted(LinkAddress address, Limb limb) {}

    /**
     * Makes the setups of a command line: addresses of the same link that name different channels become one link.
     *
     * <p>Options {@code binding}, {@code bandwidth}, {@code slope}, {@code zero} and {@code u} are the station's; every other
     * option is left to the link.
     *
     * @param wanted addresses in the order of the command line.
     * @throws io.heldmark.config.ConfigException naming the link and what is wrong with it.
     */
    public static List<LinkSetup> of(List<Wanted> wanted) {
        return LinkSetups.of(wanted);
    }
}
