package io.heldmark.link;

import io.heldmark.time.StationClock;

/**
 * Makes links of one scheme; found through {@link java.util.ServiceLoader}, so that a new kind of link is one class and
 * one line in {@code META-INF/services}.
 */
public interface LinkProvider {
    /** Returns the scheme, for example {@code serial}. */
    String scheme();

    /**
     * Makes a link that is not started.
     *
     * @throws io.heldmark.config.ConfigException if target or options are not those of this scheme.
     */
    Link open(LinkAddress address, StationClock clock);
}
