package io.heldmark.protocol;

/** Builds one text line and appends it to a buffer, with or without its check. Allocates nothing for numbers. */
final class LineWriter {
    private static final int CHECK_BYTES = 5;
    private static final byte[] HEX = {'0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'A', 'B', 'C', 'D', 'E', 'F'};

    private final boolean checked;
    private final byte[] line =
            new byte[2048]; // Longer than a reply of 509 bytes in hex; the limit is checked at the end.
    private final byte[] digits = new byte[20];
    private int fill;

    LineWriter(boolean checked) {
        this.checked = checked;
    }

    LineWriter start(char kind) {
        fill = 0;
        line[fill++] = (byte) kind;
        return this;
    }

    LineWriter field(long value) {
        return comma().number(value);
    }

    LineWriter emptyField() {
        return comma();
    }

    LineWriter tenthsField(long tenths) {
        comma();
        if (tenths < 0) {
            line[fill++] = '-';
        }
        long magnitude = Math.abs(tenths);
        number(magnitude / 10);
        line[fill++] = '.';
        return number(magnitude % 10);
    }

    LineWriter hexField(byte[] bytes) {
        comma();
        for (byte b : bytes) {
            line[fill++] = HEX[(b >> 4) & 0xF];
            line[fill++] = HEX[b & 0xF];
        }
        return this;
    }

    /** Appends {@code ,text}; the text is printable ASCII. */
    LineWriter field(String text) {
        comma();
        for (int i = 0; i < text.length(); i++) {
            line[fill++] = (byte) text.charAt(i);
        }
        return this;
    }

    /** Ends the line, writes it out and returns the number of bytes written. */
    int end(byte[] out, int outOffset) {
        int length = fill + (checked ? CHECK_BYTES : 0);
        Checks.range("line length", length, 1, Wire.MAX_LINE_BYTES);
        if (checked) {
            int crc = Crc16.of(line, 0, fill);
            line[fill++] = '*';
            for (int shift = 12; shift >= 0; shift -= 4) {
                line[fill++] = HEX[(crc >> shift) & 0xF];
            }
        }
        System.arraycopy(line, 0, out, outOffset, fill);
        out[outOffset + fill] = '\n';
        return fill + 1;
    }

    private LineWriter comma() {
        line[fill++] = ',';
        return this;
    }

    private LineWriter number(long value) {
        if (value < 0) {
            line[fill++] = '-';
        }
        int count = 0;
        long rest = Math.abs(value);
        do {
            digits[count++] = (byte) ('0' + rest % 10);
            rest /= 10;
        } while (rest > 0);
        while (count > 0) {
            line[fill++] = digits[--count];
        }
        return this;
    }
}
