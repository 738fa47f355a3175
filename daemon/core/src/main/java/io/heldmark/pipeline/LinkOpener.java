package io.heldmark.pipeline;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkProvider;
import io.heldmark.time.StationClock;
import java.util.ServiceLoader;
import java.util.TreeSet;

/** Makes the link of an address, not started. */
@FunctionalInterface
public interface LinkOpener {
    /**
     * Makes a link.
     *
     * @throws ConfigException if nobody knows the scheme, or target or options are not those of the scheme.
     */
    Link open(LinkAddress address, StationClock clock);

    /** Returns an opener that asks the providers on the class path. */
    static LinkOpener ofProviders() {
        return (address, clock) -> {
            TreeSet<String> schemes = new TreeSet<>();
            for (LinkProvider provider : ServiceLoader.load(LinkProvider.class)) {
                if (provider.scheme().equals(address.scheme())) {
                    return provider.open(address, clock);
                }
                schemes.add(provider.scheme());
            }
            throw new ConfigException("link", address.text(), "it begins with one of " + schemes);
        };
    }
}
