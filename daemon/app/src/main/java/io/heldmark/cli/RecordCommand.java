package io.heldmark.cli;

import io.heldmark.config.Config;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.RecordingState;
import io.heldmark.pipeline.LinkOpener;
import io.heldmark.pipeline.LinkSetup;
import io.heldmark.pipeline.Station;
import io.heldmark.pipeline.StationOptions;
import io.heldmark.time.StationClock;
import io.heldmark.time.SystemStationClock;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code heldmark record}: records without a viewer. */
@Command(
        name = "record",
        description = "Record from load cells without a viewer, until Ctrl-C or for a given time.",
        mixinStandardHelpOptions = true)
final class RecordCommand implements Callable<Integer> {
    private static final long TURN_MS = 100;
    private static final int TURNS_PER_LINE = 50;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private LinkArguments links;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private StationArguments station;

    @Option(names = "--duration", paramLabel = "S", description = "End after so many seconds.")
    private double durationS = Double.POSITIVE_INFINITY;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        if (!(durationS > 0)) {
            throw new BadInputException("--duration " + durationS + " is not allowed: seconds, above 0");
        }
        List<LinkSetup> setups = links.setups();
        if (setups.isEmpty()) {
            throw new BadInputException("nothing to record: name a cell with --link, --left or --right");
        }
        PrintWriter err = spec.commandLine().getErr();
        StationClock clock = new SystemStationClock();
        RecordingState last;
        try (StationSession session = new StationSession()) {
            StationOptions options = station.options(clock, Map.of(Config.RECORD_AT_START.key(), "true"), "", false);
            Station live = session.own(
                    Station.live(options, SavedCalibrations.given(setups, options, err), LinkOpener.ofProviders()));
            Cautions.print(err);
            live.start();
            last = watch(live, clock, err);
        }
        return finish(last);
    }

    private RecordingState watch(Station live, StationClock clock, PrintWriter err) throws InterruptedException {
        long turn = 0;
        RecordingState state = live.recording();
        while (clock.nowNs() < durationS * 1e9 && !state.state().equals("failed")) {
            Thread.sleep(TURN_MS);
            state = live.recording();
            if (++turn % TURNS_PER_LINE == 0) {
                err.println(line(state, live.linkHealth(), clock));
            }
        }
        err.println(line(state, live.linkHealth(), clock));
        return state;
    }

    private Integer finish(RecordingState last) {
        if (last.state().equals("failed")) {
            throw new BadInputException(
                    "the recording failed: " + (last.reason() == null ? "no reason is known" : last.reason()));
        }
        if (last.file() != null) {
            spec.commandLine().getOut().println(last.file());
        }
        return 0;
    }

    private static String line(RecordingState state, List<LinkHealth> links, StationClock clock) {
        StringBuilder text = new StringBuilder(String.format(
                Locale.ROOT,
                "%s: %.0f s, %.1f kB",
                state.file() == null ? "recording" : state.file(),
                clock.nowNs() / 1e9,
                state.bytes() / 1e3));
        for (LinkHealth link : links) {
            text.append(String.format(
                    Locale.ROOT,
                    "; %s %s %.0f Hz, %d lost",
                    link.link(),
                    link.state(),
                    link.sampleRateHz(),
                    link.lostSamples()));
        }
        return text.toString();
    }
}
