package io.heldmark.cli;

import io.heldmark.config.Config;
import io.heldmark.pipeline.LinkSetup;
import io.heldmark.pipeline.StationOptions;
import io.heldmark.time.SystemStationClock;
import io.heldmark.web.WebOptions;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code heldmark demo}: the station on two simulated cells of an invented person. */
@Command(
        name = "demo",
        description = {
            "Run the station on two simulated cells and serve the viewer, until Ctrl-C.",
            "A child process sends through pseudo-terminals; everything else is as with: serve --left LINK --right LINK"
        },
        mixinStandardHelpOptions = true)
final class DemoCommand implements Callable<Integer> {
    private static final String SCENARIO = "demo";

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private WebArguments web;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private StationArguments station;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private RecordingArguments recording;

    @Option(
            names = "--ble",
            description =
                    "Over real BlueZ instead, in a virtual machine with virtual Bluetooth radios (Linux with QEMU; of"
                            + " the other options only --port and --no-browser count).")
    private boolean overBluetooth;

    @Option(
            names = "--control",
            paramLabel = "FILE",
            description =
                    "Follow FILE for lines that are appended: hang CELL NEWTONS hangs a dead weight on a simulated"
                            + " cell in place of the person (0: nothing), free CELL gives it back.")
    private @Nullable Path control;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        PrintWriter out = spec.commandLine().getOut();
        if (overBluetooth) {
            return overBluetooth(out);
        }
        WebOptions served = web.options(); // Refused before a child is started.
        Map<String, String> forced = new LinkedHashMap<>(recording.settings());
        forced.put(Config.ZERO_AT_START.key(), "true"); // Nobody pulls before the simulated person has rested.
        StationOptions options = station.options(new SystemStationClock(), forced, "demo", true);
        List<String> more = control == null ? List.of() : List.of("--control", control.toString());
        try (StationSession session = new StationSession()) {
            SimulatedCells cells = session.own(SimulatedCells.start(SCENARIO, List.of("left", "right"), more));
            List<LinkSetup> links =
                    LinkArguments.setups(List.of(cells.link("left")), List.of(cells.link("right")), List.of());
            out.println("demo: two simulated cells and an invented person; nothing here is a measurement");
            List<LinkSetup> calibrated =
                    SavedCalibrations.given(links, options, spec.commandLine().getErr());
            ServeCommand.run(session, options, calibrated, served, web.opensBrowser(), out);
            session.await();
        }
        return 0;
    }

    private int overBluetooth(PrintWriter out) throws Exception {
        out.println("demo: two simulated cells over Bluetooth and an invented person; nothing here is a measurement");
        out.flush();
        try (StationSession session = new StationSession()) {
            BleBench machine = session.own(BleBench.start(web.options().port(), out));
            out.println("viewer: " + machine.url());
            out.flush();
            if (web.opensBrowser()) {
                Browser.open(machine.url());
            }
            machine.await();
        }
        return 0;
    }
}
