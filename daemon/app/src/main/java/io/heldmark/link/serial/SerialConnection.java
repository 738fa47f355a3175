package io.heldmark.link.serial;

import com.fazecast.jSerialComm.SerialPort;
import io.heldmark.link.stream.Connection;
import java.io.IOException;

/**
 * One open serial port.
 *
 * <p>A device that is gone shows as {@code readBytes} returning -1 while {@code isOpen} still says true; waiting in vain
 * returns 0.
 */
final class SerialConnection implements Connection {
    private final String path;
    private final SerialPort port;

    /** Takes over an open port. */
    SerialConnection(String path, SerialPort port) {
        this.path = path;
        this.port = port;
    }

    @Override
    public int read(byte[] buffer) throws IOException {
        int length = port.readBytes(buffer, buffer.length);
        if (length < 0) {
            throw new IOException(path + " is gone (unplugged or switched off)");
        }
        return length;
    }

    @Override
    public void write(byte[] bytes) throws IOException {
        int written = 0;
        while (written < bytes.length) {
            int now = port.writeBytes(bytes, bytes.length - written, written);
            if (now <= 0) {
                throw new IOException(path + " does not take what is sent");
            }
            written += now;
        }
    }

    @Override
    public void close() {
        port.closePort();
    }
}
