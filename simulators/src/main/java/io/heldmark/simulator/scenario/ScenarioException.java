package io.heldmark.simulator.scenario;

/** A scenario cannot be used; the message is one line that says where, what and what is allowed. */
public final class ScenarioException extends RuntimeException {
    /**
     * Makes the exception.
     *
     * @param message one line for people.
     */
    public ScenarioException(String message) {
        super(message);
    }
}
