package io.heldmark.cli;

import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.Coefficient;
import io.heldmark.calibration.LoadReference;
import io.heldmark.calibration.LoadResult;
import io.heldmark.calibration.Percent;
import io.heldmark.calibration.RunResult;
import java.util.Locale;

/** A calibration as text for people. */
final class CalibrationText {
    private static final String[] HEADS = {"repeat.", "reprod.", "interpol.", "zero", "revers."};

    private final CalibrationResult result;
    private final CalibrationLimits limits;
    private final StringBuilder text = new StringBuilder();

    CalibrationText(CalibrationResult result, CalibrationLimits limits) {
        this.result = result;
        this.limits = limits;
    }

    /** Returns the text; the input is named first. */
    String text(String input) {
        line(
                "%s: %d readings at %d loads, %s",
                input, result.readings(), result.loads().size(), shape());
        reference(result.request().reference());
        for (Coefficient c : result.coefficients()) {
            line("  %-3s %.9g %s, standard error of the fit %.3g", c.name(), c.value(), c.unit(), c.standardError());
        }
        line(
                "  residual SD %.4g counts, %d degrees of freedom",
                result.curve().fit().residualSd(), result.curve().fit().degreesOfFreedom());
        loads();
        for (RunResult run : result.runs()) {
            if (!Double.isNaN(run.zeroErrorPercent())) {
                line(
                        "  run %s: zero before %.7g, after %.7g counts",
                        run.run(), run.zeroBeforeCounts(), run.zeroAfterCounts());
            }
        }
        limits.sentences(result).forEach(sentence -> line("  limit: %s", sentence));
        result.notes().forEach(note -> line("  note: %s", note));
        line("  Terms as in ISO 376; no statement of conformity with it or any other standard.");
        return text.toString();
    }

    private String shape() {
        return result.request().degree() == 1 ? "straight line" : "parabola";
    }

    private void reference(LoadReference reference) {
        String weight = Double.isNaN(reference.gravityMS2())
                ? ""
                : String.format(
                        Locale.ROOT,
                        " (gravity %.6f m/s^2, buoyancy %.4f %%)",
                        reference.gravityMS2(),
                        100 * reference.buoyancyFraction());
        line(
                "  loads in %s, one is %.8g N%s; standard uncertainty %.3g %%",
                reference.unit(), reference.newtonsPerUnit(), weight, 100 * reference.relativeU());
    }

    private void loads() {
        text.append(String.format(Locale.ROOT, "  %12s %11s %11s", "load N", "residual N", "U(95 %) N"));
        for (String head : HEADS) {
            text.append(String.format(Locale.ROOT, " %9s", head));
        }
        text.append(System.lineSeparator());
        for (LoadResult load : result.loads()) {
            text.append(String.format(
                    Locale.ROOT,
                    "  %12.6g %11.3g %11.3g",
                    load.loadN(),
                    load.residualN(),
                    load.uncertainty().expandedN()));
            for (String figure : CalibrationLimits.FIGURES) {
                Percent value = CalibrationLimits.figure(load, figure);
                String shown = value.known() ? String.format(Locale.ROOT, "%.4f %%", value.value()) : "-";
                text.append(String.format(Locale.ROOT, " %9s", shown));
            }
            text.append(System.lineSeparator());
        }
    }

    private void line(String format, Object... values) {
        text.append(String.format(Locale.ROOT, format, values)).append(System.lineSeparator());
    }
}
