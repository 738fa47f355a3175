package io.heldmark.cli;

import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationRequest;
import io.heldmark.calibration.LoadReference;
import io.heldmark.cells.CheckPlan;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** The options that say what the applied loads are and how they are to be evaluated. */
final class CalibrationArguments {
    private static final double LEAST_HEIGHT_M = -500;
    private static final double MOST_HEIGHT_M = 9000;
    private static final double MOST_PERCENT = 50;

    @Option(
            names = "--applied-unit",
            paramLabel = "UNIT",
            defaultValue = "N",
            description =
                    "Unit of the column applied: N, kgf, lbf, or kg for masses that hang on the cell. Default: N.")
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private String unit;

    @Option(
            names = "--load-u-percent",
            paramLabel = "X",
            description = "Standard uncertainty of the applied loads in per cent, as weighed or as certified.")
    private @Nullable Double loadUPercent;

    @Option(
            names = "--latitude-deg",
            paramLabel = "X",
            description = "Latitude of the place, -90 to 90, for local gravity (masses).")
    private @Nullable Double latitudeDeg;

    @Option(
            names = "--height-m",
            paramLabel = "X",
            description = "Height of the place above the sea, -500 to 9000, for local gravity (masses). Default: 0.")
    private @Nullable Double heightM;

    @Option(
            names = "--mass-density",
            paramLabel = "X",
            description =
                    "Density of the masses in kg/m^3 for the buoyancy of air. Default: 8000, right for every mass that was weighed.")
    private @Nullable Double densityKgM3;

    @Option(
            names = "--degree",
            paramLabel = "N",
            defaultValue = "1",
            description = "1 fits a straight line, 2 a parabola. Default: 1.")
    private int degree;

    @Option(names = "--zero-of-each-run", description = "Subtract each run's own zero before the loads, then fit.")
    private boolean zeroOfEachRun;

    @Option(
            names = "--rated-load-n",
            paramLabel = "X",
            description = "Rated load of the cell in newtons; loads beyond it are refused.")
    private @Nullable Double ratedLoadN;

    @Option(names = "--not-swapped", description = "The columns applied and counts are right, whatever they look like.")
    private boolean notSwapped;

    @Option(
            names = "--limit",
            paramLabel = "FIGURE=X",
            description = "Limit in per cent: repeatability, reproducibility, interpolation, zero or reversibility.")
    private Map<String, Double> limits = new LinkedHashMap<>();

    @Spec(Spec.Target.MIXEE)
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private CommandSpec spec;

    /** Returns how to evaluate; wrong usage where an option is out of its range. */
    CalibrationRequest request() {
        if (degree != 1 && degree != 2) {
            throw wrong("--degree " + degree + " is not allowed; allowed: 1, 2");
        }
        range("--rated-load-n", ratedLoadN, 0.001, 1e9);
        return new CalibrationRequest(
                degree, zeroOfEachRun, reference(), ratedLoadN == null ? Double.NaN : ratedLoadN, notSwapped);
    }

    /** Returns the limits. */
    CalibrationLimits limits() {
        try {
            return CalibrationLimits.DEFAULTS.with(limits);
        } catch (IllegalArgumentException e) {
            throw wrong("--limit: " + e.getMessage());
        }
    }

    /** Tells whether the uncertainty of the loads was stated. */
    boolean loadsKnown() {
        return loadUPercent != null;
    }

    /** Returns what a quick check loaded the cell with. */
    CheckPlan checkPlan(String by, double load) {
        return new CheckPlan(
                by,
                load,
                unit,
                loadUPercent == null ? Double.NaN : loadUPercent,
                latitudeDeg,
                heightM == null ? 0 : heightM);
    }

    private LoadReference reference() {
        range("--load-u-percent", loadUPercent, 0, MOST_PERCENT);
        range("--latitude-deg", latitudeDeg, -90, 90);
        range("--height-m", heightM, LEAST_HEIGHT_M, MOST_HEIGHT_M);
        range("--mass-density", densityKgM3, 100, 25_000);
        double relativeU = loadUPercent == null ? Double.NaN : loadUPercent / 100;
        if (unit.equals("kg")) {
            double density = densityKgM3 == null ? LoadReference.CONVENTIONAL_KG_M3 : densityKgM3;
            if (latitudeDeg == null && heightM != null) {
                throw wrong("--height-m says nothing without --latitude-deg");
            }
            return latitudeDeg == null
                    ? LoadReference.massAnywhere(density, relativeU)
                    : LoadReference.massAt(latitudeDeg, heightM == null ? 0 : heightM, density, relativeU);
        }
        if (latitudeDeg != null || heightM != null || densityKgM3 != null) {
            throw wrong("--latitude-deg, --height-m and --mass-density are for masses (--applied-unit kg)");
        }
        try {
            return LoadReference.force(unit, relativeU);
        } catch (IllegalArgumentException e) {
            throw wrong("--applied-unit " + unit + " is not allowed; allowed: N, kgf, lbf, kg");
        }
    }

    private void range(String option, @Nullable Double value, double least, double most) {
        if (value != null && !(value >= least && value <= most)) {
            throw wrong(option + " " + value + " is not allowed; allowed: " + (least == 0.001 ? "over 0" : (long) least)
                    + " to " + (long) most);
        }
    }

    private ParameterException wrong(String line) {
        CommandLine command = spec.commandLine();
        return new ParameterException(command, line);
    }
}
