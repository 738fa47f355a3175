package io.heldmark.simulator.cli;

import io.heldmark.simulator.ble.BluezPort;
import io.heldmark.simulator.ble.HciPort;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.sender.Port;
import io.heldmark.simulator.sender.PtyPort;
import io.heldmark.simulator.sender.TcpPort;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Opens the ports that the option {@code --link} asks for, one for each cell. */
abstract class PortOpener {
    /** What the option may be. */
    static final String ALLOWED =
            "pty, tcp:PORT with PORT 0 to 65535, ble, ble:ADAPTER (hci0,hci1 for two cells), or hci:SOCKET";

    /** Returns whether values of the GATT binding go over it, and nothing else. */
    abstract boolean carriesGatt();

    /** Returns for how many cells there is room. */
    int mostCells() {
        return Integer.MAX_VALUE;
    }

    /** Opens the port of a cell, the {@code index}th from 0. */
    abstract Port open(CellSpec cell, int index);

    /**
     * Reads the option.
     *
     * @param ptyFolder folder for stable paths of ptys; absent: none.
     * @return null where it is not allowed.
     */
    static @Nullable PortOpener parse(String link, @Nullable Path ptyFolder) {
        if (link.equals("pty")) {
            return wired((cell, index) -> new PtyPort(ptyFolder, cell.name()));
        }
        if (link.matches("tcp:\\d{1,5}") && Integer.parseInt(link.substring(4)) <= 65535) {
            int base = Integer.parseInt(link.substring(4));
            return wired((cell, index) -> new TcpPort(base == 0 ? 0 : base + index));
        }
        if (link.matches("ble(:hci\\d{1,2}(,hci\\d{1,2})*)?")) {
            return adapters(
                    link.equals("ble") ? List.of("") : List.of(link.substring(4).split(",", -1)));
        }
        if (link.matches("hci:.+")) {
            Path controller = Path.of(link.substring(4));
            return radio((cell, index) -> new HciPort(controller, cell));
        }
        return null;
    }

    /** Opens one. */
    private interface Opening {
        Port open(CellSpec cell, int index);
    }

    private static PortOpener wired(Opening opening) {
        return of(false, opening);
    }

    private static PortOpener radio(Opening opening) {
        return of(true, opening);
    }

    /** One cell an adapter: it has one address. */
    private static PortOpener adapters(List<String> names) {
        return new PortOpener() {
            @Override
            boolean carriesGatt() {
                return true;
            }

            @Override
            int mostCells() {
                return names.size();
            }

            @Override
            Port open(CellSpec cell, int index) {
                return new BluezPort("", names.get(index), cell);
            }
        };
    }

    private static PortOpener of(boolean gatt, Opening opening) {
        return new PortOpener() {
            @Override
            boolean carriesGatt() {
                return gatt;
            }

            @Override
            Port open(CellSpec cell, int index) {
                return opening.open(cell, index);
            }
        };
    }
}
