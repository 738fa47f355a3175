package io.heldmark.protocol;

/**
 * What a decoder saw and what it could not use. All counts start at 0 and only grow. Single writer.
 *
 * <p><b>Account of bytes.</b> Every byte is counted once: {@code bytes = messageBytes + skippedBytes + idleBytes}, plus
 * the bytes of a frame, line or text describe that has begun and not ended. {@link StreamDecoder#reset()} closes the account by skipping
 * those.
 */
public final class DecoderCounters {
    /** Bytes taken. */
    public long bytes;
    /** Bytes of well-formed messages with their framing, those of dropped duplicates and late messages included. */
    public long messageBytes;
    /** Bytes that belong to no usable message. */
    public long skippedBytes;
    /** Bytes that carry nothing by the rules: empty frames, empty lines, remarks. */
    public long idleBytes;
    /** Well-formed messages handed on, unknown types included. */
    public long messages;
    /** Samples messages handed on. */
    public long sampleFrames;
    /** Frames or lines damaged on the way: stuffing broken, too short to hold a check, or check wrong. */
    public long crcFailures;
    /** Frames or lines that passed their check, or have none, and break a rule of the specification. */
    public long malformed;
    /** Frames or lines longer than the limit. */
    public long oversized;
    /** Well-formed messages of a type, or a describe of a major version, that this version does not know. */
    public long unknownMessages;
    /** Places where the sequence number jumped forward. */
    public long gaps;
    /** Samples messages missing in those places. */
    public long missingFrames;
    /** Samples messages with the sequence number and tick of the newest one; dropped. */
    public long duplicates;
    /** Samples messages that arrived after a later one; dropped. */
    public long reordered;
    /** Places where the sequence shows that the device began anew; nothing is counted as missing there. */
    public long restarts;
}
