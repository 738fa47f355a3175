package io.heldmark.cli;

import java.io.IOException;
import java.util.concurrent.TimeUnit;

/** Ends programs that the station started and that end by themselves when their input does. */
final class ChildEnd {
    private ChildEnd() {}

    /** Closes the child's input and gives it some seconds to end; then asks it to. */
    static void byClosingItsInput(Process child, long waitS) {
        try {
            child.getOutputStream().close();
            if (!child.waitFor(waitS, TimeUnit.SECONDS)) {
                child.destroy();
            }
        } catch (IOException e) {
            child.destroy();
        } catch (InterruptedException e) {
            child.destroy();
            Thread.currentThread().interrupt();
        }
    }
}
