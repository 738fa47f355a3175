package io.heldmark.cli;

import io.heldmark.cells.KnownCells;
import io.heldmark.link.ble.CellInRange;
import io.heldmark.link.ble.Centrals;
import io.heldmark.link.serial.SerialPorts;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.time.SystemStationClock;
import io.heldmark.web.DeviceJson;
import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code heldmark ports}: the serial ports of this machine, the Bluetooth cells in range, and what is known of cells met before. */
@Command(
        name = "ports",
        description =
                "List the serial ports of this machine, the Bluetooth LE cells in range, and the cells that the data folder knows.",
        mixinStandardHelpOptions = true)
final class PortsCommand implements Callable<Integer> {
    @Option(names = "--json", description = "One JSON object a line.")
    private boolean json;

    @Option(
            names = "--ble-seconds",
            paramLabel = "S",
            defaultValue = "3",
            description = "How long to look for Bluetooth LE cells, 0 to 60; 0 does not look. Default: 3.")
    private int bleSeconds;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private DataArguments data;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() {
        if (bleSeconds < 0 || bleSeconds > 60) {
            throw new ParameterException(
                    spec.commandLine(), "--ble-seconds=" + bleSeconds + " is not allowed; allowed: 0 to 60");
        }
        PrintWriter out = spec.commandLine().getOut();
        List<SerialPorts.Port> ports = SerialPorts.list();
        for (SerialPorts.Port port : ports) {
            out.println(json ? DeviceJson.of(port).toString() : textOf(port));
        }
        if (ports.isEmpty()) {
            spec.commandLine().getErr().println("no serial ports found; plug the device in and try again");
        }
        if (bleSeconds > 0) {
            printCells(out);
        }
        int code = printKnown(out);
        out.flush();
        return code;
    }

    private int printKnown(PrintWriter out) {
        KnownCells known = KnownCells.read(data.folder(), new SystemStationClock().zone());
        if (json) {
            known.json().forEach(cell -> out.println(cell.toString()));
        } else {
            known.lines().forEach(out::println);
        }
        known.remarks().forEach(remark -> spec.commandLine().getErr().println("heldmark: " + remark));
        return known.remarks().isEmpty() ? 0 : Main.BAD_INPUT;
    }

    private void printCells(PrintWriter out) {
        try {
            List<CellInRange> cells = Centrals.shared().central("auto").cells("", 1000L * bleSeconds);
            for (CellInRange cell : cells) {
                out.println(json ? DeviceJson.of(cell).toString() : textOf(cell));
            }
            if (cells.isEmpty()) {
                spec.commandLine().getErr().println("no Bluetooth cells in range; switch the cell on and try again");
            }
        } catch (UnavailableException e) {
            spec.commandLine().getErr().println("Bluetooth cells were not looked for: " + e.reason());
        }
    }

    private static String textOf(CellInRange cell) {
        String strength = cell.rssiDbm() == CellInRange.RSSI_UNKNOWN ? "" : ", " + cell.rssiDbm() + " dBm";
        String note = cell.connected() ? "  (connected)" : "";
        return cell.link() + "  " + cell.name() + strength + note;
    }

    private static String textOf(SerialPorts.Port port) {
        String maker = port.manufacturer().isEmpty() ? "" : ", " + port.manufacturer();
        String note = port.usable() ? "" : "  (no permission to use it)";
        return port.link() + "  " + port.description() + maker + note;
    }
}
