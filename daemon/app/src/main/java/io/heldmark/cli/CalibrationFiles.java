package io.heldmark.cli;

import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.CalibrationStore;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine.Option;

/** The option that evaluates a recording with other calibrations than it was made with. */
final class CalibrationFiles {
    @Option(
            names = "--calibration",
            paramLabel = "FILE",
            description = "Evaluate recordings with this saved calibration of its device; as often as needed.")
    private List<Path> files = new ArrayList<>();

    /** Returns the calibrations; a file that holds none is refused. */
    List<BoundCalibration> read() {
        return files.stream()
                .map(CalibrationStore::read)
                .map(BoundCalibration::overriding)
                .toList();
    }
}
