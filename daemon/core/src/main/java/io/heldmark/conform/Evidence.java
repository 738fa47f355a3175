package io.heldmark.conform;

/**
 * Bytes that prove something.
 *
 * @param atNs when they arrived or were sent, in nanoseconds since the run began.
 * @param sent whether the station sent them; else the device did.
 * @param hex the bytes of one message in hex, parted by spaces; cut where they are many.
 * @param length how many bytes the message has.
 */
public record Evidence(long atNs, boolean sent, String hex, int length) {
    private static final int MOST_BYTES = 64;
    private static final char[] DIGITS = "0123456789ABCDEF".toCharArray();

    /** Returns the evidence of a message. */
    static Evidence of(byte[] bytes, int offset, int length, boolean sent, long atNs) {
        int shown = Math.min(length, MOST_BYTES);
        StringBuilder hex = new StringBuilder(3 * shown);
        for (int i = 0; i < shown; i++) {
            int b = bytes[offset + i] & 0xFF;
            hex.append(i == 0 ? "" : " ").append(DIGITS[b >> 4]).append(DIGITS[b & 0xF]);
        }
        return new Evidence(atNs, sent, hex + (shown < length ? " ..." : ""), length);
    }
}
