package io.heldmark.cli;

/** Input or data that a command cannot work with: one line for people, exit code 1. */
final class BadInputException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** Makes the error from its one line: what, where and what to do. */
    BadInputException(String line) {
        super(line);
    }

    /** Makes the error from its one line and what caused it. */
    BadInputException(String line, Throwable cause) {
        super(line, cause);
    }
}
