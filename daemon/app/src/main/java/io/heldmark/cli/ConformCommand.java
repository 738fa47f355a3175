package io.heldmark.cli;

import io.heldmark.conform.Conformance;
import io.heldmark.conform.Options;
import io.heldmark.conform.Report;
import io.heldmark.link.Link;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkListener;
import io.heldmark.link.LinkState;
import io.heldmark.link.serial.SerialLinkProvider;
import io.heldmark.pipeline.LinkOpener;
import io.heldmark.time.StationClock;
import io.heldmark.time.SystemStationClock;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code heldmark conform}: a live sender against the rules of the protocol. */
@Command(
        name = "conform",
        description = "Check a live sender against the rules of the protocol, and write a report.",
        mixinStandardHelpOptions = true)
final class ConformCommand implements Callable<Integer> {
    private static final long TURN_MS = 2;
    private static final double LONGEST_WAIT_S = 600;

    @Parameters(
            paramLabel = "LINK",
            description = "The sender: serial:/dev/ttyUSB0?baud=115200&binding=auto, tcp:HOST:PORT or ble:ADDRESS.")
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private String link;

    @Option(
            names = "--stream-seconds",
            paramLabel = "S",
            defaultValue = "10",
            description = "How long the stream is watched, 3 to 600. Default: 10.")
    private double streamS;

    @Option(
            names = "--allowance-ms",
            paramLabel = "MS",
            defaultValue = "100",
            description = "What link and computer may add to a time of the specification, 0 to 1000. Default: 100.")
    private double allowanceMs;

    @Option(
            names = "--wait-seconds",
            paramLabel = "S",
            defaultValue = "15",
            description = "How long to wait for the link, 0 to 600. Default: 15.")
    private double waitS;

    @Option(names = "--strict", description = "Advice that is not taken counts as a failure.")
    private boolean strict;

    @Option(names = "--no-report", description = "Write no report.")
    private boolean noReport;

    @Option(names = "--json", description = "One JSON object instead of text.")
    private boolean json;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private DataArguments data;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() throws Exception {
        requireRange("--stream-seconds", streamS, Options.SHORTEST_STREAM_S, Options.LONGEST_STREAM_S);
        requireRange("--allowance-ms", allowanceMs, 0, 1000 * Options.LARGEST_ALLOWANCE_S);
        requireRange("--wait-seconds", waitS, 0, LONGEST_WAIT_S);
        LinkAddress address = LinkAddress.parse(link);
        Path folder = data.folder().resolve("conformance");
        StationClock clock = new SystemStationClock();
        Report report;
        if (address.options().getOrDefault("binding", "").equalsIgnoreCase("numbers")) {
            throw new BadInputException(address.text() + ": a board that prints numbers does not speak the protocol");
        }
        try (Link opened = LinkOpener.ofProviders().open(address, clock)) {
            report = new Run(opened, new Options(streamS, allowanceMs / 1000, baud(address)), clock).finish();
        }
        ConformDocument document = new ConformDocument(address.text(), report, clock.wallAnchorNs(), strict);
        print(document, noReport ? "" : write(document, folder));
        return document.conforms() ? 0 : Main.BAD_INPUT;
    }

    private void print(ConformDocument document, String written) {
        PrintWriter out = spec.commandLine().getOut();
        if (json) {
            out.println(document.json());
        } else {
            out.print(document.text());
        }
        out.flush();
        if (!written.isEmpty()) {
            spec.commandLine().getErr().println("report: " + written);
        }
    }

    private static String write(ConformDocument document, Path folder) {
        try {
            return document.write(folder).toString();
        } catch (IOException e) {
            throw new BadInputException(
                    "the report cannot be written to " + folder + ": " + e.getMessage() + "; name another --data", e);
        }
    }

    private void requireRange(String option, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw new ParameterException(
                    spec.commandLine(),
                    option + " " + value + " is not allowed; allowed: " + (long) least + " to " + (long) most);
        }
    }

    private static long baud(LinkAddress address) {
        if (!address.scheme().equals("serial")) {
            return 0;
        }
        String text = address.options().getOrDefault("baud", String.valueOf(SerialLinkProvider.DEFAULT_BAUD));
        return Long.parseLong(text); // The provider has checked it.
    }

    /** Runs a check on a real link: the link's threads hand over, this one keeps the time. */
    private final class Run implements LinkListener {
        private final Link opened;
        private final StationClock clock;
        private final Conformance conformance;
        private String reason = "";
        private boolean wasUp;
        private boolean refused;

        Run(Link opened, Options options, StationClock clock) {
            this.opened = opened;
            this.clock = clock;
            conformance = new Conformance(opened.binding(), options, opened::send);
        }

        Report finish() throws InterruptedException {
            opened.start(this);
            String told = "";
            while (true) {
                synchronized (this) {
                    conformance.onTime(clock.nowNs());
                    if (conformance.isOver()) {
                        break;
                    }
                    requireLink();
                    String doing = conformance.doing();
                    if (!doing.isEmpty() && !doing.equals(told)) {
                        told = doing;
                        spec.commandLine().getErr().println(doing);
                    }
                }
                Thread.sleep(TURN_MS);
            }
            Report report = conformance.report();
            requireSender(report);
            return report;
        }

        private void requireLink() {
            if (!wasUp && (refused || clock.nowNs() > waitS * 1e9)) {
                throw new BadInputException(
                        opened.name() + ": no link: " + (reason.isEmpty() ? "nothing is there yet" : reason));
            }
        }

        private void requireSender(Report report) {
            if (report.binding().equals("unknown") || report.bytes() == 0) {
                throw new BadInputException(opened.name() + ": " + report.broke() + " (" + report.bytes()
                        + " bytes); is the device on, and are baud rate and binding right?");
            }
        }

        @Override
        public synchronized void onBytes(byte[] bytes, int offset, int length, long arrivalNs) {
            conformance.onBytes(bytes, offset, length, arrivalNs);
        }

        @Override
        public synchronized void onState(LinkState state, String why, long atNs) {
            reason = why;
            refused = state == LinkState.FAULT;
            if (state == LinkState.UP && !wasUp) {
                wasUp = true;
                conformance.onUp(atNs);
            } else if (state == LinkState.DOWN) {
                conformance.onDown(why, atNs);
            }
        }
    }
}
