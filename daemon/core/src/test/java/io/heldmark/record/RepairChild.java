package io.heldmark.record;

import java.nio.file.Path;

/** A program that tries to repair a recording and prints what came of it. */
final class RepairChild {
    private RepairChild() {}

    public static void main(String[] args) {
        try {
            System.out.println(RecordingReader.repair(Path.of(args[0])));
        } catch (RecordingException e) {
            System.out.println(e.getMessage());
        }
    }
}
