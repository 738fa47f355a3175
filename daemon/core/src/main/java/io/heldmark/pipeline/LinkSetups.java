package io.heldmark.pipeline;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.model.Limb;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Turns link addresses of a command line into links and their channels. */
final class LinkSetups {
    private static final List<String> CALIBRATION_OPTIONS = List.of("slope", "zero", "u");

    private LinkSetups() {}

    static List<LinkSetup> of(List<LinkSetup.Wanted> wanted) {
        Map<String, LinkSetup> byTarget = new LinkedHashMap<>();
        for (LinkSetup.Wanted one : wanted) {
            LinkAddress address = one.address();
            String target = address.scheme() + ":" + address.target();
            LinkSetup next = single(address, one.limb());
            LinkSetup before = byTarget.get(target);
            byTarget.put(target, before == null ? next : merge(before, next, address.text()));
        }
        return List.copyOf(byTarget.values());
    }

    private static LinkSetup single(LinkAddress address, Limb limb) {
        Map<String, String> linkOptions = new LinkedHashMap<>(address.options());
        CALIBRATION_OPTIONS.forEach(linkOptions::remove);
        LinkAddress plain =
                new LinkAddress(textOf(address, linkOptions), address.scheme(), address.target(), linkOptions, -1);
        StationCalibration calibration = calibrationOf(address);
        boolean says = limb != Limb.NONE || calibration != null || address.channel() >= 0;
        List<ChannelSetup> channels = says
                ? List.of(new ChannelSetup(
                        address.channel() >= 0 ? address.channel() : ChannelSetup.FIRST, limb, calibration))
                : List.of();
        return new LinkSetup(plain, bindingOf(address), channels);
    }

    private static String textOf(LinkAddress address, Map<String, String> options) {
        StringBuilder text = new StringBuilder(address.scheme()).append(':').append(address.target());
        char separator = '?';
        for (Map.Entry<String, String> e : options.entrySet()) {
            text.append(separator).append(e.getKey()).append('=').append(e.getValue());
            separator = '&';
        }
        return text.toString();
    }

    private static LinkSetup merge(LinkSetup before, LinkSetup next, String text) {
        if (!before.address().options().equals(next.address().options())) {
            throw new ConfigException("link", text, "the same link stands above with other options");
        }
        List<ChannelSetup> channels = new ArrayList<>(before.channels());
        for (ChannelSetup channel : next.channels()) {
            if (channels.stream().anyMatch(c -> isSame(c.deviceChannel(), channel.deviceChannel()))) {
                throw new ConfigException(
                        "link", text, "the same channel stands twice; name different channels with #0 to #7");
            }
            channels.add(channel);
        }
        return new LinkSetup(before.address(), before.binding(), channels);
    }

    /** A link without {@code #} means the device's lowest channel: that is 0, or else there is no channel 0. */
    private static boolean isSame(int one, int other) {
        return one == other || (Math.min(one, other) == ChannelSetup.FIRST && Math.max(one, other) == 0);
    }

    private static Link.Binding bindingOf(LinkAddress address) {
        String text = address.options().getOrDefault("binding", address.scheme().equals("ble") ? "gatt" : "auto");
        return switch (text.toLowerCase(Locale.ROOT)) {
            case "auto" -> Link.Binding.AUTO;
            case "bytes" -> Link.Binding.BYTES;
            case "text" -> Link.Binding.TEXT;
            case "gatt" -> Link.Binding.GATT;
            default -> throw new ConfigException("binding", text, "auto, bytes, text or gatt");
        };
    }

    private static @Nullable StationCalibration calibrationOf(LinkAddress address) {
        String slope = address.options().get("slope");
        if (slope == null) {
            for (String option : CALIBRATION_OPTIONS) {
                if (address.options().containsKey(option)) {
                    throw new ConfigException(
                            option, address.options().get(option), "only together with slope (newtons per count)");
                }
            }
            return null;
        }
        double newtonPerCount = number("slope", slope, -1e6, 1e6);
        if (newtonPerCount == 0) {
            throw new ConfigException("slope", slope, "newtons per count, not 0");
        }
        double zero = number("zero", address.options().getOrDefault("zero", "0"), -2147483648.0, 2147483647.0);
        String u = address.options().get("u");
        return new StationCalibration(zero, newtonPerCount, u == null ? Double.NaN : number("u", u, 0, 1));
    }

    private static double number(String key, String text, double minimum, double maximum) {
        double value = Double.NaN;
        if (text.matches("[-+]?[0-9]+(\\.[0-9]+)?([eE][-+]?[0-9]{1,3})?")) {
            value = Double.parseDouble(text);
        }
        if (value >= minimum && value <= maximum) {
            return value;
        }
        throw new ConfigException(key, text, "a number from " + minimum + " to " + maximum);
    }
}
