package io.heldmark.link.ble;

import java.io.IOException;

/** One connected cell. */
public interface GattPeer {
    /**
     * Reads the describe characteristic whole; blocks.
     *
     * @throws IOException with a reason for people.
     */
    byte[] readDescribe() throws IOException;

    /**
     * Writes to the command characteristic, without waiting for the cell's answer.
     *
     * @throws IOException with a reason for people.
     */
    void writeCommand(byte[] value) throws IOException;

    /** Returns the ATT MTU; 0 where the stack does not tell. */
    int mtu();

    /** Returns the signal strength when it was seen last before it was connected, in dBm; see {@link CellInRange}. */
    int rssiDbm();

    /** Ends the connection; idempotent. */
    void close();
}
