package io.heldmark.cli;

import io.heldmark.cells.StationDate;
import io.heldmark.pipeline.CalibrationStore;
import io.heldmark.pipeline.LinkSetup;
import io.heldmark.pipeline.StationOptions;
import java.io.PrintWriter;
import java.util.List;

/** Gives links the newest valid calibrations of the devices that may turn up there. */
final class SavedCalibrations {
    private SavedCalibrations() {}

    /** Returns the links with the calibrations of the data folder; says what was found there and what is left out. */
    static List<LinkSetup> given(List<LinkSetup> links, StationOptions options, PrintWriter err) {
        CalibrationStore.Found found = new CalibrationStore(options.dataDir()).validOn(StationDate.of(options.clock()));
        found.remarks().forEach(remark -> err.println("heldmark: " + remark));
        if (!found.valid().isEmpty()) {
            err.println("calibrations of: "
                    + String.join(", ", found.valid().stream().map(c -> c.id()).toList()));
        }
        return links.stream().map(link -> link.with(found.valid())).toList();
    }
}
