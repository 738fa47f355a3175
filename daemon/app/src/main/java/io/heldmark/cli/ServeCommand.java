package io.heldmark.cli;

import io.heldmark.pipeline.LinkOpener;
import io.heldmark.pipeline.LinkSetup;
import io.heldmark.pipeline.Station;
import io.heldmark.pipeline.StationOptions;
import io.heldmark.time.StationClock;
import io.heldmark.time.SystemStationClock;
import io.heldmark.web.WebOptions;
import java.io.PrintWriter;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code heldmark serve}: the station on real links, with the viewer. */
@Command(
        name = "serve",
        description = "Run the station on load cells and serve the viewer, until Ctrl-C.",
        mixinStandardHelpOptions = true)
final class ServeCommand implements Callable<Integer> {
    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private LinkArguments links;

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
            names = "--invented",
            description = "Say in the viewer that the data are invented, as with simulated cells.")
    private boolean invented;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        PrintWriter out = spec.commandLine().getOut();
        StationClock clock = new SystemStationClock();
        StationOptions options = station.options(clock, recording.settings(), "", invented);
        List<LinkSetup> setups = SavedCalibrations.given(
                links.setups(), options, spec.commandLine().getErr());
        WebOptions served = web.options();
        try (StationSession session = new StationSession()) {
            run(session, options, setups, served, web.opensBrowser(), out);
            if (setups.isEmpty()) {
                spec.commandLine().getErr().println("no links given: name a cell with --link, --left or --right");
            }
            session.await();
        }
        return 0;
    }

    /** Runs a station in a session; the same for real and for simulated cells. */
    static void run(
            StationSession session,
            StationOptions options,
            List<LinkSetup> links,
            WebOptions web,
            boolean browser,
            PrintWriter out)
            throws Exception {
        Station live = session.own(Station.live(options, links, LinkOpener.ofProviders()));
        Cautions.print(out);
        out.println("data folder: " + options.dataDir());
        session.serve(live, options.clock(), web, browser, out);
    }
}
