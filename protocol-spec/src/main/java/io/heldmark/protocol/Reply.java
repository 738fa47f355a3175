package io.heldmark.protocol;

/**
 * A device's answer to a command.
 *
 * @param opcode opcode of the command that is answered.
 * @param token token of the command that is answered.
 * @param result one of the result numbers of the specification; 0 is done.
 * @param data data by opcode; empty for most; owned by the record.
 */
@SuppressWarnings("ArrayRecordComponent") // Small, made for one message; equality is never asked of it.
public record Reply(int opcode, int token, int result, byte[] data) {
    /** Done. */
    public static final int OK = 0;
    /** The opcode is not known to this device. */
    public static final int UNKNOWN_OPCODE = 1;
    /** The arguments have the wrong length or are out of range. */
    public static final int BAD_ARGUMENTS = 2;
    /** The device cannot do this in its present state. */
    public static final int NOT_NOW = 3;
    /** The device knows the opcode and does not support it. */
    public static final int NOT_SUPPORTED = 4;
    /** The device's memory could not be read or written. */
    public static final int STORAGE_FAILED = 5;
}
