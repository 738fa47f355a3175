package io.heldmark.cli;

import io.heldmark.config.ConfigException;
import io.heldmark.config.StationSettings;
import io.heldmark.importer.CsvException;
import io.heldmark.pipeline.AnalysisStart;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.CsvAnalysis;
import io.heldmark.pipeline.CsvOptions;
import io.heldmark.pipeline.RecordingAnalysis;
import io.heldmark.record.RecordingException;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code heldmark analyse}: contractions and their numbers in recordings and in text files of any sensor. */
@Command(
        name = "analyse",
        description = "Find the contractions in recordings and CSV files, and measure them.",
        mixinStandardHelpOptions = true)
final class AnalyseCommand implements Callable<Integer> {
    private static final byte[] PCAPNG = {0x0A, 0x0D, 0x0D, 0x0A};
    private static final String RECORDING = ".pcapng";
    private static final double U_MOST_PERCENT = 100;
    private static final double BANDWIDTH_LEAST_HZ = 0.1;
    private static final double BANDWIDTH_MOST_HZ = 1e6;

    @Parameters(
            paramLabel = "INPUT",
            arity = "1..*",
            description = "A recording, a CSV file (time_s,NAME[,NAME...]) or a folder of them.")
    private List<Path> inputs = new ArrayList<>();

    @Option(names = "--json", description = "One JSON document a line for each input.")
    private boolean json;

    @Option(names = "--left", paramLabel = "NAME", description = "The left limb's column of a CSV file.")
    private @Nullable String left;

    @Option(names = "--right", paramLabel = "NAME", description = "The right limb's column of a CSV file.")
    private @Nullable String right;

    @Option(
            names = "--calibration-u-percent",
            paramLabel = "X",
            description = "Standard uncertainty of the calibration of a CSV file's sensors, in per cent of the force.")
    private @Nullable Double calibrationUPercent;

    @Option(
            names = "--bandwidth-hz",
            paramLabel = "X",
            description = "-3 dB bandwidth of the sensors' converters, in hertz, where the input does not say it.")
    private double bandwidthHz;

    @Option(names = "--plan", paramLabel = "PLAN", description = "A test plan; there are none yet.")
    private @Nullable String plan;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private ConditionArguments conditions;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private TestArguments tests;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private SettingArguments settings;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CalibrationFiles calibrations;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        if (plan != null) {
            throw new BadInputException("--plan " + plan + ": test plans are not there yet; leave --plan out");
        }
        tests.prepare(conditions.conditions());
        StationSettings own = settings.settings(Map.of());
        double relativeU = calibrationRelativeU();
        checkBandwidth();
        List<BoundCalibration> others = calibrations.read();
        PrintWriter out = spec.commandLine().getOut();
        PrintWriter err = spec.commandLine().getErr();
        int code = 0;
        for (Path input : inputs) {
            List<Path> files = List.of();
            try {
                files = filesOf(input);
            } catch (BadInputException e) {
                err.println("heldmark: " + e.getMessage());
                code = Main.BAD_INPUT;
            }
            for (Path file : files) {
                try {
                    analyse(file, own, relativeU, others, out);
                } catch (RecordingException | CsvException | ConfigException | BadInputException e) {
                    err.println("heldmark: " + e.getMessage());
                    code = Main.BAD_INPUT;
                }
            }
        }
        out.flush();
        return code;
    }

    private void checkBandwidth() {
        boolean said = spec.commandLine().getParseResult().hasMatchedOption("--bandwidth-hz");
        if (said && !(bandwidthHz >= BANDWIDTH_LEAST_HZ && bandwidthHz <= BANDWIDTH_MOST_HZ)) {
            throw new BadInputException("--bandwidth-hz " + bandwidthHz + " is not allowed: 0.1 to 1000000");
        }
    }

    private double calibrationRelativeU() {
        if (calibrationUPercent == null) {
            return Double.NaN;
        }
        if (!(calibrationUPercent >= 0 && calibrationUPercent <= U_MOST_PERCENT)) {
            throw new BadInputException("--calibration-u-percent " + calibrationUPercent + " is not allowed: 0 to 100");
        }
        return calibrationUPercent / 100;
    }

    /** Returns the file itself, or the recordings and CSV files of a folder by name. */
    private List<Path> filesOf(Path input) throws IOException {
        if (!Files.isDirectory(input)) {
            return List.of(input);
        }
        try (Stream<Path> all = Files.list(input)) {
            List<Path> found = all.filter(
                            f -> Files.isRegularFile(f) && !tests.isTable(f) && (ends(f, RECORDING) || ends(f, ".csv")))
                    .sorted()
                    .toList();
            if (found.isEmpty()) {
                throw new BadInputException(
                        input + ": no recording (.pcapng) and no CSV file (.csv) is in this folder; name the files, or"
                                + " another folder (folders in it are not looked into)");
            }
            return found;
        }
    }

    private static boolean ends(Path file, String with) {
        return file.toString().toLowerCase(Locale.ROOT).endsWith(with);
    }

    private void analyse(
            Path file, StationSettings own, double relativeU, List<BoundCalibration> others, PrintWriter out)
            throws IOException, RecordingException, CsvException {
        if (!Files.exists(file)) {
            throw new BadInputException(file + ": there is no such file");
        }
        TestQuestions questions = tests.questionsOf(file);
        AnalysisStart none = new AnalysisStart("", "", 0, own, false);
        try (AnalysisReport report = json
                ? new AnalysisDocument(file.toString(), none, questions)
                : new AnalysisTable(file.toString(), none, questions)) {
            if (ends(file, RECORDING)
                    || isPcapng(file)) { // By its name, so that a damaged one is refused as what it is.
                RecordingAnalysis.runOnTwoThreads(file, own, questions.conditions(), others, bandwidthHz, report);
                report.strangers(others)
                        .forEach(one -> spec.commandLine()
                                .getErr()
                                .println("heldmark: " + file + ": calibration " + one.id()
                                        + " is of a device that is not in it"));
            } else {
                CsvOptions options = new CsvOptions(own, left, right, questions.conditions(), relativeU, bandwidthHz);
                CsvAnalysis.run(file, options, report);
            }
            report.print(out);
        }
    }

    private static boolean isPcapng(Path file) {
        try (InputStream in = Files.newInputStream(file)) {
            return Arrays.equals(in.readNBytes(PCAPNG.length), PCAPNG);
        } catch (IOException e) {
            throw new BadInputException(file + ": cannot be read: " + e.getMessage(), e);
        }
    }
}
