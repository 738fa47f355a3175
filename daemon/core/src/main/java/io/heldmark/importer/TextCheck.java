package io.heldmark.importer;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Says of the first bytes of a file why they are no lines of text that can be read here, and what to do about it. */
final class TextCheck {
    private static final int LOOKED_AT = 4096;

    private TextCheck() {}

    /**
     * Looks at the beginning of a file.
     *
     * @param bytes its first bytes.
     * @param count how many there are.
     * @return what is wrong, as half a sentence; absent where it can be text.
     */
    static @Nullable String refusal(byte[] bytes, int count) {
        if (begins(bytes, count, 0xFF, 0xFE) || begins(bytes, count, 0xFE, 0xFF) || zeroInEveryPair(bytes, count)) {
            return "is text in UTF-16; save it as UTF-8 (CSV UTF-8)";
        }
        if (begins(bytes, count, 'P', 'K', 3, 4)) {
            return "is a spreadsheet or another packed file; export the table as CSV (UTF-8)";
        }
        if (begins(bytes, count, 0x0A, 0x0D, 0x0D, 0x0A)) {
            return "is a recording (pcapng), no table";
        }
        for (int i = 0; i < Math.min(count, LOOKED_AT); i++) {
            if (isNoText(bytes[i])) {
                return "is no text file (a byte 0x" + String.format(Locale.ROOT, "%02X", bytes[i])
                        + " stands in it); a recording, or a table as CSV in UTF-8 is needed";
            }
        }
        return onlyReturns(bytes, count)
                ? "has lines that end with a carriage return alone; save it with line feeds (LF, or CR LF)"
                : null;
    }

    private static boolean begins(byte[] bytes, int count, int... with) {
        if (count < with.length) {
            return false;
        }
        for (int i = 0; i < with.length; i++) {
            if ((bytes[i] & 0xFF) != with[i]) {
                return false;
            }
        }
        return true;
    }

    /** UTF-16 without a mark: of each pair of bytes one is zero and the other is not, always the same one. */
    private static boolean zeroInEveryPair(byte[] bytes, int count) {
        int pairs = Math.min(count, 64) / 2;
        boolean big = pairs >= 4;
        boolean little = pairs >= 4;
        for (int i = 0; i < pairs; i++) {
            big &= bytes[2 * i] == 0 && bytes[2 * i + 1] != 0;
            little &= bytes[2 * i] != 0 && bytes[2 * i + 1] == 0;
        }
        return big || little;
    }

    private static boolean isNoText(byte b) {
        return b >= 0 && b < ' ' && b != '\t' && b != '\r' && b != '\n' && b != '\f';
    }

    private static boolean onlyReturns(byte[] bytes, int count) {
        boolean within = false;
        for (int i = 0; i < count; i++) {
            if (bytes[i] == '\n') {
                return false;
            }
            within |= bytes[i] == '\r' && i < count - 1;
        }
        return within;
    }
}
