package io.heldmark.record;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.ByteBuffer;
import org.jspecify.annotations.Nullable;

/**
 * An interface description as read: what its packets are and how their times count.
 *
 * <p><b>Source.</b> See {@link Pcapng}; {@code if_tsresol} and {@code if_tsoffset}, section 4.2: without the option a unit
 * is 10^-6 s; else the low seven bits are the negative power of 10, or of 2 where the top bit is set.
 */
final class RecordedInterface {
    private static final int MICROSECONDS = 6;
    private static final int POWER_OF_TWO = 0x80;
    private static final long NS_PER_S = 1_000_000_000L;

    /** Largest negative power of 2 whose fraction times 10^9 fits into 64 bits without a sign. */
    private static final int MAX_BINARY = 34;

    /** Largest negative power of 10 that fits into 63 bits. */
    private static final int MAX_DECIMAL = 18;

    private final int linkType;
    private final int number;
    private int resolution = MICROSECONDS;
    private long offsetS;
    private final boolean plain;
    private @Nullable ObjectNode facts;

    /**
     * Reads the description from a block's body.
     *
     * @param nextLink the number that the next link has.
     */
    RecordedInterface(ByteBuffer buffer, int bodyIndex, int bodyBytes, int nextLink) {
        linkType = Short.toUnsignedInt(buffer.getShort(bodyIndex));
        Options options = new Options(buffer, bodyIndex + Pcapng.INTERFACE_BODY_BYTES, bodyIndex + bodyBytes);
        while (options.next()) {
            switch (options.code()) {
                case Pcapng.IF_TSRESOL ->
                    resolution = options.length() == 1 ? buffer.get(options.valueIndex()) & 0xFF : resolution;
                case Pcapng.IF_TSOFFSET ->
                    offsetS = options.length() == Long.BYTES ? buffer.getLong(options.valueIndex()) : offsetS;
                case Pcapng.OPT_COMMENT -> readFacts(options.text());
                default -> {} // Everything else is for people.
            }
        }
        number = isLink() ? nextLink : -1;
        plain = resolution == 9 && offsetS == 0;
    }

    boolean isStation() {
        return linkType == Pcapng.LINKTYPE_STATION;
    }

    boolean isLink() {
        return linkType == Pcapng.LINKTYPE_LINK;
    }

    /** Returns the number of its link; -1 where it is none. */
    int number() {
        return number;
    }

    /** Returns what the interface says about its link; null where it says nothing that can be understood. */
    @Nullable LinkHeader link() {
        return facts == null ? null : RecordingFacts.link(facts);
    }

    /** Returns whether times count nanoseconds since 1970, as the recorder writes them. */
    boolean countsNanoseconds() {
        return plain;
    }

    /**
     * Turns a packet's time into nanoseconds since 1970.
     *
     * @throws ArithmeticException if it does not fit.
     */
    long wallNs(long units) {
        if (plain && units >= 0) {
            return units;
        }
        long ns = (resolution & POWER_OF_TWO) != 0 ? binaryNs(units, resolution & ~POWER_OF_TWO) : decimalNs(units);
        return Math.addExact(ns, Math.multiplyExact(offsetS, NS_PER_S));
    }

    private long decimalNs(long units) {
        if (resolution > MAX_DECIMAL) {
            throw new ArithmeticException("if_tsresol " + resolution);
        }
        if (resolution <= 9) {
            return Math.multiplyExact(nonNegative(units), powerOfTen(9 - resolution));
        }
        return nonNegative(Long.divideUnsigned(units, powerOfTen(resolution - 9)));
    }

    private static long binaryNs(long units, int power) {
        if (power > 63) {
            throw new ArithmeticException("if_tsresol 2^-" + power);
        }
        long seconds = nonNegative(units >>> power);
        long fraction = units - (seconds << power);
        int dropped = Math.max(0, power - MAX_BINARY);
        long fractionNs = ((fraction >>> dropped) * NS_PER_S) >>> (power - dropped);
        return Math.addExact(Math.multiplyExact(seconds, NS_PER_S), fractionNs);
    }

    private static long nonNegative(long value) {
        if (value < 0) {
            throw new ArithmeticException("time out of range");
        }
        return value;
    }

    private static long powerOfTen(int exponent) {
        long power = 1;
        for (int i = 0; i < exponent; i++) {
            power *= 10;
        }
        return power;
    }

    private void readFacts(String comment) {
        ObjectNode object = RecordingFacts.object(comment);
        if (object != null && object.has("interface")) {
            facts = object;
        }
    }
}
