package io.heldmark.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationReading;
import io.heldmark.calibration.QuickCheck;
import io.heldmark.cells.KeptCheck;
import io.heldmark.pipeline.BoundCalibration;
import io.heldmark.pipeline.StationCalibration;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import picocli.CommandLine;

/** What a quick check of a cell against its calibration found, as text or JSON. */
final class CheckReport {
    private final BoundCalibration bound;
    private final String overloaded;
    private final boolean json;

    /** Takes the calibration and what is known of an overload since; empty where there was none. */
    CheckReport(BoundCalibration bound, String overloaded, boolean json) {
        this.bound = bound;
        this.overloaded = overloaded;
        this.json = json;
    }

    /** Returns what each load of a table shows. */
    List<QuickCheck> checks(List<CalibrationReading> readings, double loadRelativeU) throws CalibrationException {
        StationCalibration saved = bound.calibration();
        return QuickCheck.of(readings, saved::forceN, saved.newtonPerCount(), saved.relativeU(), loadRelativeU);
    }

    /** Returns what is kept of a table: the load that is off most, as a share of its limit. */
    KeptCheck kept(List<QuickCheck> checks, List<CalibrationReading> readings, CalibrationArguments how, String by) {
        QuickCheck worst = checks.get(0);
        for (QuickCheck one : checks) {
            if (Math.abs(one.differenceN()) / one.limitN() > Math.abs(worst.differenceN()) / worst.limitN()) {
                worst = one;
            }
        }
        double load = worst.appliedN() / how.request().reference().newtonsPerUnit();
        return new KeptCheck(
                bound.id(),
                how.checkPlan(by, load),
                worst,
                meanCounts(readings, 0),
                meanCounts(readings, worst.appliedN()));
    }

    private static double meanCounts(List<CalibrationReading> readings, double appliedN) {
        return readings.stream()
                .filter(one -> one.appliedN() == appliedN)
                .mapToDouble(CalibrationReading::counts)
                .average()
                .orElseThrow();
    }

    /** Prints the checks; returns the exit code. */
    int print(List<QuickCheck> checks, CommandLine command) {
        boolean holds = checks.stream().allMatch(QuickCheck::holds);
        PrintWriter out = command.getOut();
        if (json) {
            out.println(document(checks, holds));
        } else {
            checks.forEach(check -> out.println(line(check)));
        }
        out.flush();
        if (!overloaded.isEmpty()) {
            command.getErr().println("heldmark: " + overloaded);
        }
        if (!holds) {
            command.getErr()
                    .println(
                            "heldmark: calibration " + bound.id()
                                    + " does not hold any more; check the mounting and the load, then calibrate the cell again");
        }
        return holds ? 0 : Main.BAD_INPUT;
    }

    private static String line(QuickCheck check) {
        return String.format(
                Locale.ROOT,
                "%.6g N shows as %.6g N: difference %.3g N, limit %.3g N, %s",
                check.appliedN(),
                check.shownN(),
                check.differenceN(),
                check.limitN(),
                check.holds() ? "holds" : "does not hold");
    }

    private ObjectNode document(List<QuickCheck> checks, boolean holds) {
        ObjectNode document = JsonLines.object();
        document.put("schema", "heldmark.calibrationCheck/1")
                .put("calibration", bound.id())
                .put("holds", holds);
        ArrayNode loads = document.putArray("loads");
        for (QuickCheck check : checks) {
            loads.addObject()
                    .put("appliedN", check.appliedN())
                    .put("shownN", check.shownN())
                    .put("differenceN", check.differenceN())
                    .put("standardUncertaintyN", check.standardUncertaintyN())
                    .put("limitN", check.limitN())
                    .put("holds", check.holds());
        }
        return document;
    }
}
