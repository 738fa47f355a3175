package io.heldmark.link.serial;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import io.heldmark.link.stream.Connection;
import io.heldmark.link.stream.Connector;
import io.heldmark.link.stream.UnavailableException;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Opens one serial port.
 *
 * <p>jSerialComm 2.11.4, as measured on Linux: it takes an advisory lock ({@code flock}), so that a second program which
 * does the same gets error 11; it sets {@code ASYNC_LOW_LATENCY} where the driver knows it (checked with TIOCGSERIAL
 * before and after); on a pseudo-terminal every baud rate is accepted and modem lines are not; a successful open leaves
 * error code 25 behind (no modem lines there), so that only the return value of {@code openPort} counts.
 */
final class SerialConnector implements Connector {
    private static final int READ_WAIT_MS = 200;

    private final String path;
    private final int baud;

    /**
     * Makes a connector that has not tried yet.
     *
     * @param path path or name of the port.
     * @param baud baud rate, in bits a second.
     */
    SerialConnector(String path, int baud) {
        this.path = path;
        this.baud = baud;
    }

    @Override
    public Connection connect() throws UnavailableException {
        if (path.startsWith("/") && !Files.exists(Path.of(path))) {
            throw absent();
        }
        SerialPort port = portAt();
        port.setComPortParameters(baud, 8, SerialPort.ONE_STOP_BIT, SerialPort.NO_PARITY);
        port.setFlowControl(SerialPort.FLOW_CONTROL_DISABLED);
        port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, READ_WAIT_MS, 0);
        if (!port.openPort(0)) {
            throw OpenFailure.explain(path, port.getLastErrorCode());
        }
        return new SerialConnection(path, port);
    }

    private SerialPort portAt() throws UnavailableException {
        try {
            return SerialPort.getCommPort(path);
        } catch (SerialPortInvalidPortException e) {
            throw absent();
        }
    }

    private UnavailableException absent() {
        return new UnavailableException(
                UnavailableException.Kind.ABSENT, path + " is not there; waiting for the device to be plugged in");
    }
}
