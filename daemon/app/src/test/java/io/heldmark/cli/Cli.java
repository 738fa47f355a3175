package io.heldmark.cli;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;

/** Runs the program inside the test. */
final class Cli {
    /** What a run left behind. */
    record Result(int code, String out, String err) {
        List<String> lines() {
            return out.lines().toList();
        }
    }

    private Cli() {}

    static Result run(String... args) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int code = Main.run(args, new PrintWriter(out), new PrintWriter(err));
        return new Result(code, out.toString(), err.toString());
    }
}
