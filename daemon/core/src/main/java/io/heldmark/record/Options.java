package io.heldmark.record;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;

/**
 * Walks through the options of a block; ends at the end mark, at the end of the block, or at an option that does not fit.
 *
 * <p><b>Source.</b> See {@link Pcapng}; options, section 3.5.
 */
final class Options {
    private static final int HEAD_BYTES = 4;

    private final ByteBuffer buffer;
    private final int end;
    private int next;
    private int code;
    private int valueIndex;
    private int length;

    /** Starts at the first option; the bounds are indexes into the buffer. */
    Options(ByteBuffer buffer, int start, int end) {
        this.buffer = buffer;
        this.next = start;
        this.end = end;
    }

    boolean next() {
        if (end - next < HEAD_BYTES) {
            return false;
        }
        code = Short.toUnsignedInt(buffer.getShort(next));
        length = Short.toUnsignedInt(buffer.getShort(next + 2));
        valueIndex = next + HEAD_BYTES;
        next = valueIndex + Pcapng.padded(length);
        return code != Pcapng.OPT_END && valueIndex + length <= end;
    }

    int code() {
        return code;
    }

    /** Returns the length of the value in bytes. */
    int length() {
        return length;
    }

    /** Returns the index of the value in the buffer. */
    int valueIndex() {
        return valueIndex;
    }

    String text() {
        return new String(buffer.array(), buffer.arrayOffset() + valueIndex, length, StandardCharsets.UTF_8);
    }
}
