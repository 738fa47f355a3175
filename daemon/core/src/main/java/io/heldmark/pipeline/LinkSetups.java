package io.heldmark.pipeline;

import io.heldmark.config.ConfigException;
import io.heldmark.decode.NumberLayout;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.Limb;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Turns link addresses of a command line into links and their channels.
 *
 * <p>A station calibration: {@code slope} (newtons per count), {@code zero} (counts), {@code u} (relative standard uncertainty of
 * the slope); and, where known, {@code uzero} (standard uncertainty of the force at that zero, newtons), {@code rzero} (its
 * correlation with the slope), {@code to} (highest force of the calibration, newtons), {@code drift} (most that the zero
 * drifts, newtons per hour), {@code reference} (name of the reference) and {@code uref} (its relative standard uncertainty).
 */
final class LinkSetups {
    private static final List<String> CALIBRATION_OPTIONS =
            List.of("slope", "zero", "u", "uzero", "rzero", "to", "drift", "reference", "uref");

    /** Least bandwidth of a converter, in hertz. */
    static final double LEAST_BANDWIDTH_HZ = 0.1;
    /** Most. */
    static final double MOST_BANDWIDTH_HZ = 1e6;

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
        Link.Binding binding = bindingOf(address);
        checkLayout(address, binding, calibration != null);
        String bandwidth = address.options().get(LinkSetup.BANDWIDTH);
        if (bandwidth != null) {
            bandwidthHz(bandwidth);
        }
        return new LinkSetup(plain, binding, channels);
    }

    /** A layout of printed numbers is declared where it is needed, and only there. */
    private static void checkLayout(LinkAddress address, Link.Binding binding, boolean calibrated) {
        if (binding == Link.Binding.NUMBERS) {
            boolean force = NumberLayout.of(address.options()).saysForce();
            if (force && calibrated) {
                throw new ConfigException(
                        "slope",
                        address.options().getOrDefault("slope", ""),
                        "only with columns of counts: these are forces already");
            }
            return;
        }
        for (String option : NumberLayout.OPTIONS) {
            String value = address.options().get(option);
            if (value != null) {
                throw new ConfigException(option, value, "only together with binding=numbers");
            }
        }
    }

    /** Reads a bandwidth or refuses it. */
    static double bandwidthHz(String text) {
        return number(LinkSetup.BANDWIDTH, text, LEAST_BANDWIDTH_HZ, MOST_BANDWIDTH_HZ);
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
            case "numbers" -> Link.Binding.NUMBERS;
            default -> throw new ConfigException("binding", text, "auto, bytes, text, gatt or numbers");
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
        double relativeU = u == null ? Double.NaN : number("u", u, 0, 1);
        return new StationCalibration(zero, newtonPerCount, relativeU, cellOf(address.options(), relativeU));
    }

    private static CellCalibration cellOf(Map<String, String> options, double relativeU) {
        String zeroU = options.get("uzero");
        if (zeroU != null && Double.isNaN(relativeU)) {
            throw new ConfigException("uzero", zeroU, "only together with u (relative uncertainty of the slope)");
        }
        String correlation = options.get("rzero");
        if (correlation != null && zeroU == null) {
            throw new ConfigException("rzero", correlation, "only together with uzero (uncertainty of the zero)");
        }
        List<Double> covariance = zeroU == null
                ? List.of()
                : CellCalibration.lineCovariance(
                        number("uzero", zeroU, 0, 1e6), relativeU, optional(options, "rzero", -1, 1, 0));
        return new CellCalibration(
                optional(options, "to", 0.001, 1e6, Double.NaN),
                optional(options, "drift", 0, 1e6, Double.NaN),
                optional(options, "uref", 0, 0.999, 0),
                options.getOrDefault("reference", ""),
                covariance);
    }

    private static double optional(
            Map<String, String> options, String key, double minimum, double maximum, double otherwise) {
        String text = options.get(key);
        return text == null ? otherwise : number(key, text, minimum, maximum);
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
