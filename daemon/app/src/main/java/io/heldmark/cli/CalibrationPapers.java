package io.heldmark.cli;

import io.heldmark.cells.CalibrationFacts;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** The options that say whose calibration it is, and what is to become of it. */
final class CalibrationPapers {
    private static final int MOST_DAYS = 3660;
    private static final int MOST_CHARACTERS = 200;

    @Option(
            names = "--save",
            description =
                    "Save it as the next calibration of --device; the station uses it from then on. With --check: keep the check"
                            + " with the cell, beside those of the viewer.")
    private boolean save;

    @Option(
            names = "--certificate",
            paramLabel = "FILE",
            description = "Write a certificate to FILE: PDF where its name ends in .pdf, else HTML.")
    private @Nullable Path certificate;

    @Option(
            names = "--check",
            paramLabel = "FILE",
            description =
                    "Fit nothing: compare the readings with this saved calibration; exit code 1 where it does not hold. Kept in the"
                            + " cell's history only with --save.")
    private @Nullable Path check;

    @Option(names = "--device", paramLabel = "ID", description = "The device's identity, as it says itself.")
    private String device = "";

    @Option(names = "--channel", paramLabel = "N", description = "The device's channel, 0 to 7. Default: 0.")
    private int channel;

    @Option(names = "--by", paramLabel = "NAME", description = "Who calibrated.")
    private String by = "";

    @Option(
            names = "--loads",
            paramLabel = "TEXT",
            description = "Which masses or which reference cell the loads were.")
    private String loads = "";

    @Option(names = "--valid-days", paramLabel = "N", description = "Days until the next calibration. Default: 365.")
    private int validDays = 365;

    @Spec(Spec.Target.MIXEE)
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    /** Refuses what is out of range or missing. */
    void check(CalibrationArguments how) {
        if (channel < 0 || channel > 7) {
            throw wrong("--channel " + channel + " is not allowed; allowed: 0 to 7");
        }
        if (validDays < 1 || validDays > MOST_DAYS) {
            throw wrong("--valid-days " + validDays + " is not allowed; allowed: 1 to " + MOST_DAYS);
        }
        for (String text : new String[] {device, by, loads}) {
            if (text.length() > MOST_CHARACTERS || text.chars().anyMatch(c -> c < ' ')) {
                throw wrong("--device, --by and --loads are one line of at most " + MOST_CHARACTERS + " characters");
            }
        }
        if (check != null) {
            checkOfACheck(how);
        } else if (wanted()) {
            String option = save ? "--save" : "--certificate";
            require(option, "--device", !device.isBlank());
            require(option, "--by", !by.isBlank());
            require(option, "--load-u-percent", how.loadsKnown());
        }
        // Nothing is saved where the certificate cannot be written afterwards.
        if (certificate != null && !Files.isDirectory(certificate.resolveSibling("."))) {
            throw new BadInputException(certificate + " cannot be written: its folder is not there");
        }
        if (certificate != null && Files.isDirectory(certificate)) {
            throw new BadInputException(certificate + " cannot be written: it is a folder");
        }
    }

    private void checkOfACheck(CalibrationArguments how) {
        if (certificate != null || !device.isEmpty() || channel != 0) {
            throw wrong(
                    "--check fits nothing and takes the cell from the calibration: leave --certificate, --device and"
                            + " --channel out");
        }
        if (save) {
            require("--save", "--load-u-percent", how.loadsKnown());
        }
    }

    private void require(String option, String other, boolean there) {
        if (!there) {
            throw wrong(option + " needs " + other);
        }
    }

    private ParameterException wrong(String line) {
        return new ParameterException(spec.commandLine(), line);
    }

    /** Tells whether anything is to be kept. */
    boolean wanted() {
        return save || certificate != null;
    }

    @Nullable Path checked() {
        return check;
    }

    boolean saves() {
        return save;
    }

    @Nullable Path certificate() {
        return certificate;
    }

    /** Tells whether the certificate is to be a PDF. */
    boolean asPdf() {
        return certificate != null
                && certificate.toString().toLowerCase(Locale.ROOT).endsWith(".pdf");
    }

    String device() {
        return device;
    }

    int channel() {
        return channel;
    }

    String by() {
        return by;
    }

    String loads() {
        return loads;
    }

    /** Returns what a certificate says beside the numbers. */
    CalibrationFacts facts(String id, String input, LocalDate today) {
        return new CalibrationFacts(
                id, device, channel, by, loads, input, today.toString(), validUntil(today), Version.text());
    }

    LocalDate validUntil(LocalDate today) {
        return today.plusDays(validDays);
    }
}
