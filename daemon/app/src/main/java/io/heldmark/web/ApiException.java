package io.heldmark.web;

/** A request that is answered with an error: a status and one sentence. */
final class ApiException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final int status;

    /** Makes the error. */
    ApiException(int status, String sentence) {
        super(sentence);
        this.status = status;
    }

    /** Returns the HTTP status. */
    int status() {
        return status;
    }

    /** Returns the sentence. */
    String sentence() {
        return String.valueOf(getMessage());
    }
}
