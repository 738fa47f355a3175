package io.heldmark.cli;

import io.heldmark.calibration.Calibration;
import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationReading;
import io.heldmark.calibration.CalibrationRequest;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.CalibrationTable;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code heldmark calibrate}: a calibration from a table of readings under known loads. */
@Command(
        name = "calibrate",
        description = "Fit a calibration to readings under known loads, and say how good it is.",
        mixinStandardHelpOptions = true)
final class CalibrateCommand implements Callable<Integer> {
    private static final long MOST_BYTES = 16_000_000;

    @Parameters(
            paramLabel = "CSV",
            description = "Readings: a header run,direction,applied,counts (and mounting), a line for each.")
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private Path csv;

    @Option(names = "--json", description = "One JSON document instead of text.")
    private boolean json;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CalibrationArguments how;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() {
        CalibrationRequest request = how.request();
        CalibrationLimits limits = how.limits();
        CalibrationResult result;
        try {
            List<CalibrationReading> readings =
                    CalibrationTable.read(lines(), request.reference().newtonsPerUnit());
            result = Calibration.of(readings, request);
        } catch (CalibrationException e) {
            throw new BadInputException(csv + ": " + e.getMessage(), e);
        }
        PrintWriter out = spec.commandLine().getOut();
        if (json) {
            out.println(new CalibrationDocument(result, limits).json(csv.toString()));
        } else {
            out.print(new CalibrationText(result, limits).text(csv.toString()));
        }
        out.flush();
        return 0;
    }

    private List<String> lines() {
        try {
            if (Files.isRegularFile(csv) && Files.size(csv) > MOST_BYTES) {
                throw new BadInputException(csv + ": larger than 16 MB; a table of readings is needed");
            }
            return Files.readAllLines(csv);
        } catch (NoSuchFileException e) {
            throw new BadInputException(csv + ": no such file", e);
        } catch (CharacterCodingException e) {
            throw new BadInputException(csv + ": no text in UTF-8; a table of readings is needed", e);
        } catch (IOException e) {
            throw new BadInputException(csv + ": cannot be read: " + e.getMessage(), e);
        }
    }
}
