package io.heldmark.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.Calibration;
import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationReading;
import io.heldmark.calibration.CalibrationRequest;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.CalibrationTable;
import io.heldmark.calibration.QuickCheck;
import io.heldmark.cells.CalibrationCertificate;
import io.heldmark.cells.CalibrationDocument;
import io.heldmark.cells.CalibrationFacts;
import io.heldmark.cells.KeptCheck;
import io.heldmark.cells.OverloadSince;
import io.heldmark.cells.StationDate;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.CellLog;
import io.heldmark.pipeline.StationCalibration;
import io.heldmark.pipeline.WholeFile;
import io.heldmark.time.SystemStationClock;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
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

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CalibrationPapers papers;

    @Mixin
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private DataArguments data;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    @Override
    public Integer call() {
        CalibrationRequest request = how.request();
        CalibrationLimits limits = how.limits();
        papers.check(how);
        Path checked = papers.checked();
        CalibrationResult result;
        try {
            List<CalibrationReading> readings =
                    CalibrationTable.read(lines(), request.reference().newtonsPerUnit());
            if (checked != null) {
                return check(checked, readings, request.reference().relativeU());
            }
            result = Calibration.of(readings, request);
        } catch (CalibrationException e) {
            throw new BadInputException(csv + ": " + e.getMessage(), e);
        }
        ObjectNode document = new CalibrationDocument(result, limits).json(csv.toString(), Version.text());
        String kept = keep(result, limits, document);
        PrintWriter out = spec.commandLine().getOut();
        if (json) {
            out.println(document);
        } else {
            out.print(new CalibrationText(result, limits).text(csv.toString()));
        }
        out.flush();
        if (!kept.isEmpty()) {
            spec.commandLine().getErr().println(kept);
        }
        return 0;
    }

    private int check(Path saved, List<CalibrationReading> readings, double loadRelativeU) throws CalibrationException {
        BoundCalibration bound = CalibrationStore.read(saved);
        CheckReport report = new CheckReport(bound, overloadedSince(saved), json);
        List<QuickCheck> checks = report.checks(readings, loadRelativeU);
        if (papers.saves()) {
            KeptCheck kept = report.kept(checks, readings, how, papers.by());
            try {
                Path file = CellLog.checks(data.folder())
                        .put(bound.deviceId(), bound.deviceChannel(), kept.entry(new SystemStationClock()));
                spec.commandLine().getErr().println("kept: " + file);
            } catch (IOException e) {
                throw new BadInputException(data.folder() + " cannot be written: " + e.getMessage(), e);
            }
        }
        return report.print(checks, spec.commandLine());
    }

    /** Says which overload of the data folder came after a saved calibration; empty where none did. */
    private String overloadedSince(Path saved) {
        CalibrationVersion version = CalibrationStore.version(saved);
        BoundCalibration of = version.bound();
        return OverloadSince.sentence(
                version,
                CellLog.overloads(data.folder()).entries(of.deviceId(), of.deviceChannel()),
                new SystemStationClock().zone());
    }

    /** Saves and certifies as asked, and returns what was done in words. */
    private String keep(CalibrationResult result, CalibrationLimits limits, ObjectNode document) {
        if (!papers.wanted()) {
            return "";
        }
        LocalDate today = StationDate.of(new SystemStationClock());
        document.put("calibratedBy", papers.by()).put("evaluatedOn", today.toString());
        document.put("loadsDescribed", papers.loads());
        List<String> done = new ArrayList<>();
        Path target = data.folder();
        try {
            if (papers.saves()) {
                LocalDate until = papers.validUntil(today);
                Path file = new CalibrationStore(target)
                        .save(document, papers.device(), papers.channel(), until, inUse(result));
                done.add("saved: " + file);
            }
            Path certificate = papers.certificate();
            if (certificate != null) {
                target = certificate;
                CalibrationFacts facts = papers.facts(document.path("id").asText(""), csv.toString(), today);
                CalibrationCertificate paper = new CalibrationCertificate(result, limits, facts);
                WholeFile.write(
                        certificate, papers.asPdf() ? paper.pdf() : paper.html().getBytes(StandardCharsets.UTF_8));
                done.add("certificate: " + certificate);
            }
        } catch (IOException e) {
            throw new BadInputException(target + " cannot be written: " + e.getMessage(), e);
        }
        return String.join(System.lineSeparator(), done);
    }

    private StationCalibration inUse(CalibrationResult result) {
        try {
            return StationCalibration.of(result, papers.loads());
        } catch (CalibrationException e) {
            throw new BadInputException(csv + ": " + e.getMessage(), e);
        }
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
