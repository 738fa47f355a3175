package io.heldmark.cli;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.TraceFilter;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.StationListener;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import picocli.CommandLine.Option;

/** The option that evaluates a recording with other calibrations than it was made with. */
final class CalibrationFiles {
    @Option(
            names = "--calibration",
            paramLabel = "FILE",
            description = "Evaluate recordings with this saved calibration of its device; as often as needed.")
    private List<Path> files = new ArrayList<>();

    /** Returns what says, as soon as its channel turns up, that a calibration is in use. */
    static StationListener teller(List<BoundCalibration> calibrations, PrintWriter err) {
        Set<String> told = new HashSet<>();
        return new StationListener() {
            @Override
            public void onChannels(List<ChannelInfo> channels, List<TraceFilter> traceFilters, long atNs) {
                for (ChannelInfo channel : channels) {
                    calibrations.stream()
                            .filter(one -> one.isOf(channel.deviceId(), channel.deviceChannel()) && told.add(one.id()))
                            .forEach(one -> err.println("calibration " + one.id() + " is used for " + channel.name()));
                }
            }
        };
    }

    /** Returns the calibrations; a file that holds none is refused. */
    List<BoundCalibration> read() {
        return files.stream()
                .map(CalibrationStore::read)
                .map(BoundCalibration::overriding)
                .toList();
    }
}
