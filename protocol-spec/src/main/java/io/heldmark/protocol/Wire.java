package io.heldmark.protocol;

/**
 * Numbers of the wire: message types, characteristics and limits.
 *
 * <p><b>Source.</b> {@code protocol-spec/gaugeline-v1.md}, sections "Messages" and "Limits".
 */
public final class Wire {
    /** Major version of the protocol; receivers refuse any other. */
    public static final int VERSION_MAJOR = 1;
    /** Minor version of the protocol that this codec writes. */
    public static final int VERSION_MINOR = 0;

    /** Message type: describe, device to station. */
    public static final int DESCRIBE = 0x01;
    /** Message type: samples, device to station. */
    public static final int SAMPLES = 0x02;
    /** Message type: status, device to station. */
    public static final int STATUS = 0x03;
    /** Message type: reply, device to station. */
    public static final int REPLY = 0x04;
    /** Message type: pong, device to station. */
    public static final int PONG = 0x05;
    /** Message type: command, station to device. */
    public static final int COMMAND = 0x41;
    /** Message type: ping, station to device. */
    public static final int PING = 0x42;

    /** First byte of a chunk of the GATT binding: value of the describe characteristic. */
    public static final int GATT_DESCRIBE = 0x57;
    /** First byte of a chunk of the GATT binding: value of the stream characteristic. */
    public static final int GATT_STREAM = 0x58;
    /** First byte of a chunk of the GATT binding: value of the command characteristic. */
    public static final int GATT_COMMAND = 0x59;
    /** First byte of a chunk of the GATT binding: value of the reply characteristic. */
    public static final int GATT_REPLY = 0x5A;

    /** Longest frame of the byte stream before stuffing, in bytes: type, payload and CRC. */
    public static final int MAX_FRAME_BYTES = 512;
    /** Longest payload of the byte stream, in bytes. */
    public static final int MAX_PAYLOAD_BYTES = MAX_FRAME_BYTES - 3;
    /** Longest frame of the byte stream after stuffing, in bytes, without its delimiter: one more per 254 begun. */
    public static final int MAX_STUFFED_BYTES = MAX_FRAME_BYTES + (MAX_FRAME_BYTES + 253) / 254;
    /** Longest text line, in bytes, without its line end. */
    public static final int MAX_LINE_BYTES = 200;
    /** Most bytes that a text line carries in hex: arguments of a command, data of a reply. */
    public static final int MAX_HEX_PAIRS = 90;
    /** Longest value of a GATT characteristic, in bytes (Bluetooth Core Specification, Vol 3, Part F, 3.2.9). */
    public static final int MAX_VALUE_BYTES = 512;
    /** Room that holds any one message in any binding, in bytes; the longest is a describe of 18 text lines. */
    public static final int MAX_MESSAGE_BYTES = 4096;

    /** Most channels of a device. */
    public static final int MAX_CHANNELS = 8;
    /** Most samples per channel in one samples message. */
    public static final int MAX_SAMPLES = 31;
    /** Longest device id, model or firmware text, in bytes of UTF-8. */
    public static final int MAX_TEXT_BYTES = 32;
    /** Longest channel name, in bytes of UTF-8. */
    public static final int MAX_NAME_BYTES = 24;
    /** Most supported rates that a describe lists. */
    public static final int MAX_RATES = 16;

    static final int SAMPLES_HEADER_BYTES = 8;
    static final int STATUS_BYTES = 15;
    static final int PONG_BYTES = 10;
    static final int PING_BYTES = 2;
    static final int DESCRIBE_HEADER_BYTES = 12;
    static final int CHANNEL_HEADER_BYTES = 14;
    static final int CALIBRATION_BYTES = 17;

    static final int TAG_DEVICE_ID = 0x01;
    static final int TAG_MODEL = 0x02;
    static final int TAG_FIRMWARE = 0x03;
    static final int TAG_RATES = 0x04;
    static final int TAG_CHANNEL = 0x10;
    static final int TAG_CALIBRATION = 0x11;

    static final long U32_MAX = 0xFFFF_FFFFL;
    static final int U16_MAX = 0xFFFF;
    static final int U8_MAX = 0xFF;

    private Wire() {}
}
