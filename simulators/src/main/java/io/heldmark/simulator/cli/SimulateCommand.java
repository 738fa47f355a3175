package io.heldmark.simulator.cli;

import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.Scenario;
import io.heldmark.simulator.scenario.ScenarioException;
import io.heldmark.simulator.sender.Endpoint;
import io.heldmark.simulator.sender.Pace;
import io.heldmark.simulator.sender.Port;
import io.heldmark.simulator.sender.PortException;
import io.heldmark.simulator.truth.TruthDocument;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicBoolean;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Runs a scenario in real time: opens a port for each cell, prints its address, and sends until told to stop. */
@Command(
        name = "simulate",
        description =
                "Runs virtual load cells of a scenario with an invented person, over pseudo-terminals, TCP or Bluetooth LE.",
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {
            "",
            "Prints one JSON line for each port: {\"cell\":\"left\",\"link\":\"serial:/dev/pts/3\"}.",
            "Exit codes: 0 done, 1 scenario or port cannot be used, 2 wrong usage, 3 internal fault."
        })
public final class SimulateCommand implements Callable<Integer> {
    private static final long READER_POLL_MS = 20;

    @Spec
    private @Nullable CommandSpec spec;

    @Parameters(
            index = "0",
            arity = "0..1",
            paramLabel = "SCENARIO",
            description = "A scenario file, or the name of a bundled scenario; see --list.")
    private @Nullable String scenarioName;

    @Option(
            names = "--link",
            paramLabel = "LINK",
            defaultValue = "pty",
            description =
                    "pty, or tcp:PORT: the first cell listens on PORT, the next on PORT+1, ...; 0 takes free ones; or"
                            + " ble, ble:ADAPTER: a Bluetooth LE cell on an adapter of this computer, through BlueZ;"
                            + " ble:hci0,hci1 for two; or hci:SOCKET: Bluetooth LE peripherals on a controller"
                            + " behind a local socket."
                            + " Default: ${DEFAULT-VALUE}.")
    private String link = "pty";

    @Option(
            names = "--pty-dir",
            paramLabel = "DIR",
            description = "Gives each pty a stable path DIR/CELL, which a fault can take away and bring back.")
    private @Nullable Path ptyFolder;

    @Option(names = "--truth", paramLabel = "FILE", description = "Writes what is true to FILE (JSON) when it ends.")
    private @Nullable Path truthFile;

    @Option(
            names = "--speed",
            paramLabel = "X",
            defaultValue = "1",
            description = "How fast, 0.01 to 1000; 1 is real time.")
    private double speed = 1;

    @Option(names = "--seed", paramLabel = "N", description = "Takes this seed instead of the scenario's.")
    private @Nullable Long seed;

    @Option(
            names = "--duration",
            paramLabel = "S",
            description = "Ends after this many seconds of the scenario, 0.1 to 1e7.")
    private @Nullable Double durationS;

    @Option(names = "--cell", paramLabel = "NAME", description = "Runs this cell of the scenario only.")
    private @Nullable String cellName;

    @Option(names = "--autostart", description = "Cells stream at once and do not wait for start.")
    private boolean autostart;

    @Option(
            names = "--when-connected",
            description = "Time begins when a station has connected to every cell (Bluetooth LE links).")
    private boolean whenConnected;

    @Option(names = "--exit-with-stdin", description = "Ends when its standard input ends.")
    private boolean exitWithStdin;

    @Option(
            names = "--control",
            paramLabel = "FILE",
            description = "Follows FILE for lines that are appended: hang CELL NEWTONS (a dead weight in place of the"
                    + " person; 0: nothing), free CELL. Not with --truth.")
    private @Nullable Path controlFile;

    @Option(names = "--list", description = "Lists the bundled scenarios and ends.")
    private boolean list;

    private final PrintStream out;
    private final PrintStream err;
    private final InputStream in;
    private final AtomicBoolean finished = new AtomicBoolean();

    /** Makes the command for the process's own streams. */
    public SimulateCommand() {
        this(System.out, System.err, System.in);
    }

    /**
     * Makes the command.
     *
     * @param out takes the addresses, one JSON line each.
     * @param err takes messages.
     * @param in ends the run with {@code --exit-with-stdin}.
     */
    public SimulateCommand(PrintStream out, PrintStream err, InputStream in) {
        this.out = out;
        this.err = err;
        this.in = in;
    }

    /** Returns where messages go. */
    PrintStream err() {
        return err;
    }

    @Override
    public Integer call() throws InterruptedException {
        if (list) {
            Scenario.BUNDLED.forEach(
                    name -> out.println(name + ": " + Scenario.bundled(name).description()));
            return 0;
        }
        check();
        try {
            return run(scenario());
        } catch (ScenarioException | PortException e) {
            err.println("simulate: " + e.getMessage());
            return 1;
        }
    }

    private void check() {
        if (scenarioName == null) {
            throw usage("SCENARIO is missing: a file, or one of " + String.join(", ", Scenario.BUNDLED));
        }
        if (!(speed >= 0.01 && speed <= 1000)) {
            throw usage("--speed=" + speed + " is not allowed; allowed: 0.01 to 1000");
        }
        if (durationS != null && !(durationS >= 0.1 && durationS <= 1e7)) {
            throw usage("--duration=" + durationS + " is not allowed; allowed: 0.1 to 1e7 s");
        }
        if (controlFile != null && truthFile != null) {
            throw usage("--control and --truth do not go together: no truth knows of what is hung on by hand");
        }
        opener();
    }

    private ParameterException usage(String text) {
        if (spec == null) {
            throw new IllegalStateException("not run by picocli");
        }
        return new ParameterException(spec.commandLine(), text);
    }

    private Scenario scenario() {
        String name = String.valueOf(scenarioName);
        Scenario scenario = Scenario.BUNDLED.contains(name) ? Scenario.bundled(name) : Scenario.load(Path.of(name));
        scenario = seed == null ? scenario : scenario.withSeed(seed);
        scenario = durationS == null ? scenario : scenario.withDurationS(durationS);
        scenario = cellName == null ? scenario : scenario.withOnly(cellName);
        scenario = opener().carriesGatt() ? scenario.withGatt() : scenario;
        if (scenario.cells().size() > opener().mostCells()) {
            throw usage("--link=" + link + " has room for fewer cells than the scenario's "
                    + scenario.cells().size() + ": one adapter is one cell; name an adapter for each"
                    + " (ble:hci0,hci1), or one cell (--cell NAME)");
        }
        return autostart ? scenario.withAutostart() : scenario;
    }

    private int run(Scenario scenario) throws InterruptedException {
        checkTruthFile();
        List<Port> ports = openPorts(scenario);
        if (whenConnected) {
            show(scenario, ports);
            announce(scenario, ports);
            awaitReaders(ports);
        }
        Pace pace = new Pace(speed);
        List<Endpoint> endpoints = new ArrayList<>();
        for (int i = 0; i < ports.size(); i++) {
            String name = scenario.cells().get(i).name();
            endpoints.add(new Endpoint(name, new VirtualCell(scenario, i), ports.get(i), pace));
        }
        Thread hook = new Thread(() -> finish(scenario, endpoints, pace), "simulate-end");
        Runtime.getRuntime().addShutdownHook(hook);
        endpoints.forEach(Endpoint::start);
        if (!whenConnected) {
            announce(scenario, ports);
        }
        if (controlFile != null) {
            new ControlFile(controlFile, endpoints, err).start();
        }
        if (exitWithStdin) {
            watchStdin(endpoints);
        }
        try {
            for (Endpoint endpoint : endpoints) {
                endpoint.awaitEnd();
            }
        } finally {
            finish(scenario, endpoints, pace);
        }
        return 0;
    }

    private List<Port> openPorts(Scenario scenario) {
        List<Port> ports = new ArrayList<>();
        try {
            for (CellSpec cell : scenario.cells()) {
                if (cell.binding() == CellSpec.Binding.GATT && !opener().carriesGatt()) {
                    throw usage("cell " + cell.name() + " speaks GATT, which pty and tcp do not carry");
                }
                ports.add(opener().open(cell, ports.size()));
            }
            return ports;
        } catch (PortException e) {
            ports.forEach(Port::close);
            throw e;
        }
    }

    private PortOpener opener() {
        PortOpener parsed = PortOpener.parse(link, ptyFolder);
        if (parsed == null) {
            throw usage("--link=" + link + " is not allowed; allowed: " + PortOpener.ALLOWED);
        }
        return parsed;
    }

    /** Hands over what cells tell when they are switched on: a station reads it before time begins. */
    static void show(Scenario scenario, List<Port> ports) {
        for (int i = 0; i < ports.size(); i++) {
            VirtualCell cell = new VirtualCell(scenario, i);
            if (cell.advance()) {
                ports.get(i).write(cell.bytes(), 0, cell.length());
            }
        }
    }

    private static void awaitReaders(List<Port> ports) throws InterruptedException {
        while (!ports.stream().allMatch(Port::hasReader)) {
            Thread.sleep(READER_POLL_MS);
        }
    }

    private void announce(Scenario scenario, List<Port> ports) {
        for (int i = 0; i < ports.size(); i++) {
            // Names and paths hold nothing that JSON would have to escape but the backslash and the quote.
            String address = ports.get(i).address().replace("\\", "\\\\").replace("\"", "\\\"");
            out.println("{\"cell\":\"" + scenario.cells().get(i).name() + "\",\"link\":\"" + address + "\"}");
        }
        out.flush();
    }

    private void watchStdin(List<Endpoint> endpoints) {
        Thread watcher = new Thread(
                () -> {
                    try {
                        while (in.read() >= 0) {
                            // Whatever is said there, only its end counts.
                        }
                    } catch (IOException e) {
                        err.println("simulate: standard input cannot be read, ending");
                    }
                    endpoints.forEach(Endpoint::close);
                },
                "simulate-stdin");
        watcher.setDaemon(true);
        watcher.start();
    }

    private void finish(Scenario scenario, List<Endpoint> endpoints, Pace pace) {
        if (!finished.compareAndSet(false, true)) {
            return;
        }
        endpoints.forEach(Endpoint::close);
        if (truthFile == null) {
            return;
        }
        Map<String, Object> run = new LinkedHashMap<>();
        run.put("startUnixNs", pace.startUnixNs());
        run.put("speed", speed);
        String document = TruthDocument.write(
                scenario, endpoints.stream().map(Endpoint::truth).toList(), run);
        try {
            Files.writeString(truthFile, document);
        } catch (IOException e) {
            err.println(
                    "simulate: cannot write " + truthFile + " (" + e.getClass().getSimpleName() + ")");
        }
    }

    /** A run that could not write its truth at the end would be for nothing: look before. */
    private void checkTruthFile() {
        if (truthFile == null) {
            return;
        }
        Path parent = truthFile.toAbsolutePath().getParent();
        if (Files.isDirectory(truthFile) || parent == null || !Files.isDirectory(parent) || !Files.isWritable(parent)) {
            throw new PortException("cannot write " + truthFile + "; its folder must exist and be writable");
        }
    }
}
