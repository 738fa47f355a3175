package io.heldmark.record;

/** A file that cannot be read as a recording; the message says in one line what, where and what to do. */
public final class RecordingException extends Exception {
    private static final long serialVersionUID = 1L;

    /** Makes the refusal from its one line. */
    public RecordingException(String message) {
        super(message);
    }

    /** Makes the refusal from its one line and what caused it. */
    public RecordingException(String message, Throwable cause) {
        super(message, cause);
    }
}
