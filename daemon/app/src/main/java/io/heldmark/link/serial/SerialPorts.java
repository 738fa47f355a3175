package io.heldmark.link.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Lists the serial ports of this machine. */
public final class SerialPorts {
    private SerialPorts() {}

    /**
     * One serial port.
     *
     * @param path path or name, as it stands in a link address.
     * @param description what the operating system says of it.
     * @param manufacturer maker of the adapter; empty where unknown.
     * @param serialNumber serial number of the adapter; empty where unknown.
     * @param usable whether this user may read and write it.
     */
    public record Port(String path, String description, String manufacturer, String serialNumber, boolean usable) {
        /** Returns the link address of this port. */
        public String link() {
            return "serial:" + path;
        }
    }

    /** Returns the ports by path. */
    public static List<Port> list() {
        List<Port> ports = new ArrayList<>();
        for (SerialPort port : SerialPort.getCommPorts()) {
            String path = port.getSystemPortPath();
            ports.add(new Port(
                    path,
                    known(port.getPortDescription()),
                    known(port.getManufacturer()),
                    known(port.getSerialNumber()),
                    !path.startsWith("/") || (Files.isReadable(Path.of(path)) && Files.isWritable(Path.of(path)))));
        }
        ports.sort(Comparator.comparing(Port::path));
        return ports;
    }

    private static String known(String text) {
        return text == null || text.equals("Unknown") ? "" : text;
    }
}
