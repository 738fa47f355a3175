package io.heldmark.record;

/** Marks what lands next; gone with it. */
final class Pending {
    private Pending() {}

    static UnsupportedOperationException work() {
        return new UnsupportedOperationException("lands next");
    }

    static void check() {
        boolean landed = Boolean.getBoolean("heldmark.record.landed");
        if (!landed) {
            throw work();
        }
    }
}
