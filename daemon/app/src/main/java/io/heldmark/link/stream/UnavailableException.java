package io.heldmark.link.stream;

/** There is no connection to be had now; the message says why in plain words, and what to do where one can do something. */
public final class UnavailableException extends Exception {
    private static final long serialVersionUID = 1L;

    private final Kind kind;

    /** How a link goes on trying. */
    public enum Kind {
        /** The device is not there (yet): looked for often, since looking is cheap, so that plugging in works at once. */
        ABSENT,
        /** The other side does not answer: tried again with back-off. */
        UNREACHABLE,
        /** Somebody has to do something first: tried again with back-off and shown as a fault. */
        REFUSED
    }

    /** Makes the error from its kind and a reason for people. */
    public UnavailableException(Kind kind, String reason) {
        super(reason);
        this.kind = kind;
    }

    /** Returns how to go on. */
    public Kind kind() {
        return kind;
    }

    /** Returns the reason in plain words. */
    public String reason() {
        String message = getMessage();
        return message == null ? "" : message;
    }
}
