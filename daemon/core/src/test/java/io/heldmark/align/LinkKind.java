package io.heldmark.align;

/**
 * How a link delays what passes it, for the tests of the aligner.
 *
 * @param name name in the tables.
 * @param packetMs device time between two frames.
 * @param intervalMs the link carries data only at multiples of this (connection events, latency timer); 0: at any time.
 * @param downlinkWaits commands to the device wait for the grid too.
 * @param perGridTime frames that fit one grid time.
 * @param retryShare share of grid times that fail, so that everything waits for the next.
 * @param baseMs constant delay of the way up.
 * @param downBaseMs constant delay of the way down.
 * @param leadMs a command must be there this long before the grid time at which it goes.
 * @param jitterMs mean of the exponential delay on top.
 */
record LinkKind(
        String name,
        double packetMs,
        double intervalMs,
        boolean downlinkWaits,
        int perGridTime,
        double retryShare,
        double baseMs,
        double downBaseMs,
        double leadMs,
        double jitterMs) {

    static LinkKind radio(double intervalMs, double packetMs) {
        return new LinkKind(
                "radio " + plain(intervalMs) + " ms, packets " + plain(packetMs) + " ms",
                packetMs,
                intervalMs,
                true,
                6,
                0.03,
                0.8,
                0.8,
                0,
                0.1);
    }

    static LinkKind usb(double timerMs, double packetMs) {
        return new LinkKind(
                "USB timer " + plain(timerMs) + " ms, packets " + plain(packetMs) + " ms",
                packetMs,
                timerMs,
                false,
                1000,
                0,
                0.3,
                0.3,
                0,
                0.05);
    }

    static LinkKind cable(double packetMs) {
        return new LinkKind("cable, packets " + plain(packetMs) + " ms", packetMs, 0, false, 1, 0, 0.3, 0.3, 0, 0.05);
    }

    /** The same link with other constant delays, and commands that must be there some time before they go. */
    LinkKind with(double upMs, double downMs, double commandLeadMs) {
        return new LinkKind(
                name + ", delays " + plain(upMs) + "/" + plain(downMs) + " ms, lead " + plain(commandLeadMs) + " ms",
                packetMs,
                intervalMs,
                downlinkWaits,
                perGridTime,
                retryShare,
                upMs,
                downMs,
                commandLeadMs,
                jitterMs);
    }

    private static String plain(double value) {
        return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
    }
}
