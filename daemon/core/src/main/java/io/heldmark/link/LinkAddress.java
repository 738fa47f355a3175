package io.heldmark.link;

import io.heldmark.config.ConfigException;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * A link as the user writes it: {@code scheme:target?key=value&key=value#channel}, for example
 * {@code serial:/dev/ttyUSB0?baud=115200&binding=bytes#0}.
 *
 * @param text the whole text, but for a passkey.
 * @param scheme the kind of link, lower case.
 * @param target what follows the colon.
 * @param options options, in the order written.
 * @param channel channel on the device that {@code #channel} names; -1 without.
 */
public record LinkAddress(String text, String scheme, String target, Map<String, String> options, int channel) {
    /** The option that stays out of {@link #text}, and so out of every name, log and recording. */
    public static final String PASSKEY = "passkey";

    /** Copies the options and keeps their order. */
    public LinkAddress {
        options = Collections.unmodifiableMap(new LinkedHashMap<>(options));
    }

    /**
     * Reads a link address.
     *
     * @throws ConfigException if it has no scheme or target, an option is not {@code key=value} or stands twice, or the
     *     channel is not 0 to 7.
     */
    public static LinkAddress parse(String text) {
        String rest = text;
        int channel = -1;
        int hash = rest.lastIndexOf('#');
        if (hash >= 0) {
            channel = channelOf(text, rest.substring(hash + 1));
            rest = rest.substring(0, hash);
        }
        Map<String, String> options = new LinkedHashMap<>();
        int question = rest.indexOf('?');
        if (question >= 0) {
            readOptions(text, rest.substring(question + 1), options);
            rest = rest.substring(0, question);
        }
        int colon = rest.indexOf(':');
        if (colon <= 0 || colon == rest.length() - 1) {
            throw new ConfigException(
                    "link", text, "write scheme:target, for example serial:/dev/ttyUSB0 or tcp:localhost:9000");
        }
        return new LinkAddress(
                withoutPasskey(text), rest.substring(0, colon), rest.substring(colon + 1), options, channel);
    }

    private static String withoutPasskey(String text) {
        String hidden = text.replaceAll("([?&])" + PASSKEY + "=[^&#]*", "$1");
        return hidden.replaceAll("&+", "&").replace("?&", "?").replaceAll("[?&](?=#|$)", "");
    }

    private static int channelOf(String text, String digits) {
        if (digits.length() == 1 && digits.charAt(0) >= '0' && digits.charAt(0) <= '7') {
            return digits.charAt(0) - '0';
        }
        throw new ConfigException("link", text, "the channel after # is 0 to 7");
    }

    private static void readOptions(String text, String query, Map<String, String> options) {
        if (query.isEmpty()) {
            return;
        }
        for (String pair : query.split("&", -1)) {
            int equals = pair.indexOf('=');
            if (equals <= 0) {
                throw new ConfigException("link", text, "an option is key=value, not '" + pair + "'");
            }
            if (options.put(pair.substring(0, equals), pair.substring(equals + 1)) != null) {
                throw new ConfigException("link", text, "option " + pair.substring(0, equals) + " stands twice");
            }
        }
    }
}
