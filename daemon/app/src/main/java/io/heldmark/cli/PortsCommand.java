package io.heldmark.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.link.serial.SerialPorts;
import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code heldmark ports}: the serial ports of this machine. */
@Command(name = "ports", description = "List the serial ports of this machine.", mixinStandardHelpOptions = true)
final class PortsCommand implements Callable<Integer> {
    @Option(names = "--json", description = "One JSON object a line.")
    private boolean json;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        List<SerialPorts.Port> ports = SerialPorts.list();
        for (SerialPorts.Port port : ports) {
            out.println(json ? jsonOf(port) : textOf(port));
        }
        if (ports.isEmpty()) {
            spec.commandLine().getErr().println("no serial ports found; plug the device in and try again");
        }
        out.flush();
        return 0;
    }

    private static String textOf(SerialPorts.Port port) {
        String maker = port.manufacturer().isEmpty() ? "" : ", " + port.manufacturer();
        String note = port.usable() ? "" : "  (no permission to use it)";
        return port.link() + "  " + port.description() + maker + note;
    }

    private static String jsonOf(SerialPorts.Port port) {
        ObjectNode node = JsonLines.object().put("link", port.link()).put("path", port.path());
        putKnown(node, "description", port.description());
        putKnown(node, "manufacturer", port.manufacturer());
        putKnown(node, "serialNumber", port.serialNumber());
        return node.put("usable", port.usable()).toString();
    }

    private static void putKnown(ObjectNode node, String name, String text) {
        if (!text.isEmpty()) {
            node.put(name, text);
        }
    }
}
