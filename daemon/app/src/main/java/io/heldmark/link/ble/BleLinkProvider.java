package io.heldmark.link.ble;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkProvider;
import io.heldmark.link.stream.StreamLink;
import io.heldmark.link.stream.StreamOptions;
import io.heldmark.time.StationClock;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;

/**
 * Makes Bluetooth LE links: {@code ble:00:AA:01:01:00:01}, with the options {@code adapter} (for example {@code hci1}) and
 * {@code provider} ({@code auto}, {@code bluez} or {@code tinyb}).
 *
 * <p>A cell is named by its address, and no other is ever connected to: the links that a station is started with are its
 * list of known cells.
 */
public final class BleLinkProvider implements LinkProvider {
    private static final Pattern ADDRESS = Pattern.compile("([0-9A-F]{2}:){5}[0-9A-F]{2}");
    private static final Pattern PASSKEY = Pattern.compile("[0-9]{6}");
    private static final Pattern ADAPTER = Pattern.compile("hci[0-9]{1,2}");

    @Override
    public String scheme() {
        return "ble";
    }

    @Override
    public Link open(LinkAddress address, StationClock clock) {
        StreamOptions.requireKnown(address, List.of("adapter", "provider", LinkAddress.PASSKEY));
        String cell = address.target().toUpperCase(Locale.ROOT);
        require(address, ADDRESS.matcher(cell).matches(), "write ble:ADDRESS, for example ble:00:AA:01:01:00:01");
        String adapter = address.options().getOrDefault("adapter", "");
        require(address, adapter.isEmpty() || ADAPTER.matcher(adapter).matches(), "adapter is hci0, hci1, ...");
        String provider = address.options().getOrDefault("provider", "auto");
        require(address, Centrals.PROVIDERS.contains(provider), "provider is auto, bluez or tinyb");
        String binding = address.options().getOrDefault("binding", "gatt");
        require(address, binding.equals("gatt") || binding.equals("auto"), "a ble link speaks the GATT binding");
        String passkey = address.options().getOrDefault(LinkAddress.PASSKEY, "");
        require(address, passkey.isEmpty() || PASSKEY.matcher(passkey).matches(), "passkey is six digits");
        return new StreamLink(
                StreamOptions.name(address),
                Link.Binding.GATT,
                new BleConnector(Centrals.shared(), provider, adapter, cell, passkey, clock),
                clock);
    }

    private static void require(LinkAddress address, boolean holds, String otherwise) {
        if (!holds) {
            throw new ConfigException("link", address.text(), otherwise);
        }
    }
}
