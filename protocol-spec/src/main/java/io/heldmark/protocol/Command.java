package io.heldmark.protocol;

/**
 * A command from the station to a device.
 *
 * @param opcode what to do; one of the {@code Opcode} numbers of the specification, 0 to 255.
 * @param token number chosen by the station, 0 to 255, returned in the reply.
 * @param arguments the command's arguments in their binary form, by opcode; owned by the record.
 */
@SuppressWarnings("ArrayRecordComponent") // Small, made for one message; equality is never asked of it.
public record Command(int opcode, int token, byte[] arguments) {
    /** Send the describe message. */
    public static final int DESCRIBE = 1;
    /** Start streaming samples. */
    public static final int START = 2;
    /** Stop streaming samples. */
    public static final int STOP = 3;
    /** Set the sample rate; argument u32 thousandths of a hertz. */
    public static final int SET_RATE = 4;
    /** Blink or beep; argument u8 seconds. */
    public static final int IDENTIFY = 5;
    /** Read a channel's calibration; argument u8 channel. */
    public static final int READ_CALIBRATION = 6;
    /** Write a channel's calibration; argument as the calibration element of describe. */
    public static final int WRITE_CALIBRATION = 7;
    /** Send a status message. */
    public static final int STATUS = 8;
}
