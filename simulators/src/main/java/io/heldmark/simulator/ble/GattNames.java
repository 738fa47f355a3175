package io.heldmark.simulator.ble;

/** What a cell offers over GATT, as in the Gaugeline specification, "GATT binding". */
final class GattNames {
    static final String SERVICE = "00bcae56-6af8-4e29-ae7a-a1942d9c2465";
    static final String DESCRIBE = "00bcae57-6af8-4e29-ae7a-a1942d9c2465";
    static final String STREAM = "00bcae58-6af8-4e29-ae7a-a1942d9c2465";
    static final String COMMAND = "00bcae59-6af8-4e29-ae7a-a1942d9c2465";
    static final String REPLY = "00bcae5a-6af8-4e29-ae7a-a1942d9c2465";

    /** First byte of a value of each characteristic inside the program. */
    static final byte DESCRIBE_BYTE = 0x57;

    static final byte STREAM_BYTE = 0x58;
    static final byte COMMAND_BYTE = 0x59;
    static final byte REPLY_BYTE = 0x5A;

    /** Maker's name in Device Information. */
    static final String MANUFACTURER = "Heldmark (simulated)";

    private GattNames() {}
}
