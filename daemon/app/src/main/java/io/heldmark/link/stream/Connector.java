package io.heldmark.link.stream;

/** Opens connections to one device; one attempt a call. */
@FunctionalInterface
public interface Connector {
    /**
     * Tries once to connect.
     *
     * @throws UnavailableException if there is no connection to be had now, with the reason in plain words.
     */
    Connection connect() throws UnavailableException;
}
