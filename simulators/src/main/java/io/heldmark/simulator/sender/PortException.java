package io.heldmark.simulator.sender;

/** A real link cannot be opened or used; the message is one line for people. */
public final class PortException extends RuntimeException {
    /**
     * Makes the exception.
     *
     * @param message one line for people.
     */
    public PortException(String message) {
        super(message);
    }
}
