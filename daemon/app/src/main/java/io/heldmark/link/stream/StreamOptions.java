package io.heldmark.link.stream;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Reads the options of a link address that links over a stream of bytes share. */
public final class StreamOptions {
    /** Options that every link has; those of the station ({@code slope, zero, u, bandwidth}) are read by the pipeline. */
    private static final List<String> COMMON =
            List.of("binding", "slope", "zero", "u", "bandwidth", "columns", "delimiter", "rate");

    private StreamOptions() {}

    /**
     * Refuses an option that this kind of link does not have.
     *
     * @param address the address.
     * @param own option names of this kind of link, besides the common ones.
     * @throws ConfigException naming the option and those that there are.
     */
    public static void requireKnown(LinkAddress address, List<String> own) {
        List<String> known = new ArrayList<>(own);
        known.addAll(COMMON);
        for (String key : address.options().keySet()) {
            if (!known.contains(key)) {
                throw new ConfigException(
                        "link",
                        address.text(),
                        "'" + key + "' is no option of " + address.scheme() + " links; there are "
                                + String.join(", ", known));
            }
        }
    }

    /**
     * Returns the binding that the address asks for; found from the first bytes where it does not say.
     *
     * @throws ConfigException if it is not one of a stream of bytes.
     */
    public static Link.Binding binding(LinkAddress address) {
        String text = address.options().getOrDefault("binding", "auto").toLowerCase(Locale.ROOT);
        return switch (text) {
            case "auto" -> Link.Binding.AUTO;
            case "bytes" -> Link.Binding.BYTES;
            case "text" -> Link.Binding.TEXT;
            case "numbers" -> Link.Binding.NUMBERS;
            default -> throw new ConfigException("link", address.text(), "binding is auto, bytes, text or numbers");
        };
    }

    /** Returns the link as the user wrote it, without the channel: both limbs of one device share one link. */
    public static String name(LinkAddress address) {
        int hash = address.text().lastIndexOf('#');
        return hash < 0 ? address.text() : address.text().substring(0, hash);
    }
}
