package io.heldmark.protocol;

/** What a decoder saw and what it could not use. All counts start at 0 and only grow. Single writer. */
public final class DecoderCounters {
    /** Bytes taken. */
    public long bytes;
    /** Well-formed messages handed on, unknown types included. */
    public long messages;
    /** Samples messages handed on. */
    public long sampleFrames;
    /** Bytes that belong to no usable message. */
    public long skippedBytes;
    /** Frames or lines whose check failed. */
    public long crcFailures;
    /** Frames or lines that passed their check, or have none, and break a rule of the specification. */
    public long malformed;
    /** Frames or lines longer than the limit. */
    public long oversized;
    /** Well-formed messages of a type that this version does not know. */
    public long unknownMessages;
    /** Places where the sequence number jumped forward. */
    public long gaps;
    /** Samples messages missing in those places. */
    public long missingFrames;
    /** Samples messages with the sequence number of the one before; dropped. */
    public long duplicates;
    /** Samples messages that arrived after a later one; dropped. */
    public long reordered;
}
