package io.heldmark.importer;

import java.nio.file.Path;

/** A file that cannot be used; the message is one line that says what, where and what to do. */
public final class CsvException extends Exception {
    private static final long serialVersionUID = 1;

    /** Refuses a line of a file. */
    CsvException(Path file, long line, String what) {
        super(file + ": line " + line + ": " + what);
    }

    /** Refuses a file as a whole. */
    CsvException(Path file, String what) {
        super(file + ": " + what);
    }
}
