package io.heldmark.link.ble;

import io.heldmark.link.stream.UnavailableException;
import java.util.List;

/** What the station needs of a Bluetooth stack. Thread-safe. */
public interface GattCentral {
    /** Returns the provider's name: {@code bluez} or {@code tinyb}. */
    String name();

    /**
     * Connects to a cell, finds its service and subscribes to stream and reply; blocks, for up to about 30 s.
     *
     * @param adapter adapter, for example {@code hci0}; empty for the first one.
     * @param address Bluetooth address of the cell.
     * @param passkey six digits for a cell that asks for them when it is paired; empty where there are none.
     * @param listener takes values and the end, on threads of the stack.
     * @throws UnavailableException if there is no connection to be had now, with the reason in plain words.
     */
    GattPeer connect(String adapter, String address, String passkey, Listener listener) throws UnavailableException;

    /**
     * Looks for cells by the service that they advertise.
     *
     * @param adapter adapter; empty for the first one.
     * @param forMs how long to look.
     * @throws UnavailableException if this computer cannot look, with the reason in plain words.
     */
    List<CellInRange> cells(String adapter, long forMs) throws UnavailableException;

    /** Takes what comes from a cell. */
    interface Listener {
        /**
         * Takes one notified value.
         *
         * @param characteristic its byte in a chunk: {@link GattNames#STREAM_BYTE} or {@link GattNames#REPLY_BYTE}.
         * @param value buffer, reused after the call.
         * @param length number of bytes from index 0 on.
         */
        void onValue(byte characteristic, byte[] value, int length);

        /** Takes the end of the connection with a reason for people; at most once. */
        void onGone(String reason);
    }
}
