package io.heldmark.cli;

import java.io.PrintWriter;

/** What everybody who is about to test a person is reminded of. */
final class Cautions {
    /** Two lines; the wording is the project's own and to be confirmed by a clinician. */
    static final String TEXT = """
            Before a person pulls: screen them, warm up, stop on pain, and have a qualified person supervise.
            Heldmark is not a medical device; local rules and licensed practice decide.""";

    private Cautions() {}

    /** Prints them. */
    static void print(PrintWriter out) {
        out.println(TEXT);
        out.flush();
    }
}
