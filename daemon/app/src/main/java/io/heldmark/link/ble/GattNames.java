package io.heldmark.link.ble;

/** UUIDs and characteristic bytes of the GATT binding, as in the Gaugeline specification, "GATT binding". */
public final class GattNames {
    /** The service. */
    public static final String SERVICE = "00bcae56-6af8-4e29-ae7a-a1942d9c2465";
    /** Describe: read. */
    public static final String DESCRIBE = "00bcae57-6af8-4e29-ae7a-a1942d9c2465";
    /** Stream: notify. */
    public static final String STREAM = "00bcae58-6af8-4e29-ae7a-a1942d9c2465";
    /** Command: write. */
    public static final String COMMAND = "00bcae59-6af8-4e29-ae7a-a1942d9c2465";
    /** Reply: notify. */
    public static final String REPLY = "00bcae5a-6af8-4e29-ae7a-a1942d9c2465";

    /** First byte of a chunk with a value of describe. */
    public static final byte DESCRIBE_BYTE = 0x57;
    /** First byte of a chunk with a value of stream. */
    public static final byte STREAM_BYTE = 0x58;
    /** First byte of a chunk with a value of reply. */
    public static final byte REPLY_BYTE = 0x5A;

    /** Longest value of a characteristic (Bluetooth Core Specification, Vol 3, Part F, 3.2.9). */
    public static final int LONGEST_VALUE_BYTES = 512;

    private GattNames() {}
}
