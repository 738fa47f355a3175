package io.heldmark.cli;

import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.Station;
import io.heldmark.pipeline.StationOptions;
import io.heldmark.record.RecordingReader;
import io.heldmark.record.RecordingSummary;
import io.heldmark.record.Repair;
import io.heldmark.time.SystemStationClock;
import io.heldmark.web.WebOptions;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code heldmark replay}: a recording through the same pipeline, into the viewer or as JSON Lines. */
@Command(
        name = "replay",
        description = "Play a recording through the same signal path, into the viewer or as JSON Lines.",
        mixinStandardHelpOptions = true)
final class ReplayCommand implements Callable<Integer> {
    private static final double SLOWEST = 0.1;
    private static final double FASTEST = 100;

    @Parameters(paramLabel = "RECORDING", description = "A recording; also its bare name, if it is in the data folder.")
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private Path recording;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private WebArguments web;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private DataArguments data;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private SettingArguments settings;

    @Option(
            names = "--speed",
            paramLabel = "X",
            description = "0.1 to 100 times real time; 0 is as fast as possible. Default: 1, with --json 0.")
    private @Nullable Double speed;

    @Option(names = "--json", description = "No viewer: print what was found as JSON Lines, and end.")
    private boolean json;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CalibrationFiles calibrations;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        double factor = speed == null ? (json ? 0 : 1) : speed;
        if (!(factor == 0 || (factor >= SLOWEST && factor <= FASTEST))) {
            throw new BadInputException("--speed " + factor + " is not allowed: 0.1 to 100, or 0");
        }
        WebOptions served = web.options();
        Path file = found();
        boolean whole = checked(file);
        SystemStationClock clock = new SystemStationClock();
        StationOptions options =
                new StationOptions(settings.settings(Map.of()), data.folder(), clock, Version.text(), false);
        PrintWriter out = spec.commandLine().getOut();
        try (StationSession session = new StationSession()) {
            List<BoundCalibration> others = calibrations.read();
            Station station = session.own(Station.replay(options, file, others));
            station.addListener(
                    CalibrationFiles.teller(others, spec.commandLine().getErr()));
            station.replaySpeed(factor);
            if (json) {
                EventPrinter printer = new EventPrinter(out);
                station.addListener(printer);
                station.start();
                printer.awaitEnd(station);
            } else {
                out.println("replay: " + file);
                session.serve(station, clock, served, web.opensBrowser(), out);
                session.await();
            }
        }
        out.flush();
        return whole ? 0 : Main.BAD_INPUT;
    }

    /** Says what is not as it should be; false where the file had been cut off in the middle of a packet. */
    private boolean checked(Path file) throws Exception {
        Repair repair = RecordingReader.repair(file);
        PrintWriter err = spec.commandLine().getErr();
        if (repair.repaired()) {
            err.println("heldmark: " + file + ": it had no proper end and was repaired to its last whole packet; "
                    + repair.removedBytes() + " bytes after it were cut off");
        }
        List<String> notes = RecordingSummary.of(file).notes();
        notes.forEach(note -> err.println("heldmark: " + file + ": " + note));
        return repair.removedBytes() == 0;
    }

    private Path found() {
        if (Files.exists(recording) || recording.getNameCount() != 1) {
            return recording;
        }
        for (String folder : List.of("recordings", "demo/recordings")) {
            Path file = data.folder().resolve(folder).resolve(recording);
            if (Files.exists(file)) {
                return file;
            }
        }
        return recording;
    }
}
