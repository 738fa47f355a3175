package io.heldmark.cells;

import io.heldmark.calibration.CalibrationLimits;
import io.heldmark.calibration.CalibrationResult;
import io.heldmark.calibration.LoadResult;
import java.util.Locale;

/** Residuals of a calibration over the load as a drawing: dots with 95 % intervals, and the limit of the interpolation error. */
final class ResidualPlot {
    private static final double WIDTH = 720;
    private static final double HEIGHT = 300;
    private static final double LEFT = 70;
    private static final double RIGHT = 15;
    private static final double TOP = 15;
    private static final double BOTTOM = 40;
    /** Size on paper of one unit of the drawing. */
    private static final double CM = 17.28 / WIDTH;
    /** Room that a label of the load needs, in units of the drawing: the lowest loads may stand close to each other. */
    private static final double LABEL = 42;

    private final CalibrationResult result;
    private final double limitShare;
    private final double leastN;
    private final double mostN;
    private final double heightN;
    private final StringBuilder svg = new StringBuilder();

    ResidualPlot(CalibrationResult result, CalibrationLimits limits) {
        this.result = result;
        limitShare = limits.percent().getOrDefault("interpolation", 0.0) / 100;
        leastN = result.loads().get(0).loadN();
        mostN = result.loads().get(result.loads().size() - 1).loadN();
        double height = limitShare * Math.max(Math.abs(leastN), Math.abs(mostN));
        for (LoadResult load : result.loads()) {
            height = Math.max(
                    height, Math.abs(load.residualN()) + load.uncertainty().expandedN());
        }
        heightN = 1.08 * height;
    }

    /**
     * Returns the drawing. Its labels are text of the page and not of the drawing: so they are in the fonts of the page, also where a
     * machine has none.
     */
    String html() {
        svg.setLength(0);
        svg.append(text(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.2fcm\" height=\"%.2fcm\" viewBox=\"0 0 %.0f %.0f\""
                        + " role=\"img\" aria-label=\"residuals in newtons over the load\">",
                WIDTH * CM, HEIGHT * CM, WIDTH, HEIGHT));
        line(leastN, 0, mostN, 0, "#111", "");
        limit(1);
        limit(-1);
        for (LoadResult load : result.loads()) {
            double u = load.uncertainty().expandedN();
            line(load.loadN(), load.residualN() - u, load.loadN(), load.residualN() + u, "#555", "");
            svg.append(text(
                    "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"4\" fill=\"#111\"/>", x(load.loadN()), y(load.residualN())));
        }
        svg.append("</svg>");
        axis();
        return "<div class=\"plot\">" + svg + "</div>";
    }

    /** The limit grows with the load: two straight lines through zero. */
    private void limit(int sign) {
        double zeroN = Math.min(Math.max(leastN, 0), mostN);
        for (double endN : new double[] {leastN, mostN}) {
            if (endN != zeroN) {
                line(
                        zeroN,
                        sign * limitShare * Math.abs(zeroN),
                        endN,
                        sign * limitShare * Math.abs(endN),
                        "#777",
                        "6 4");
            }
        }
    }

    private void axis() {
        double right = Double.NEGATIVE_INFINITY;
        for (LoadResult load : result.loads()) {
            double x = x(load.loadN());
            if (x - right >= LABEL) {
                label("x", x, HEIGHT - BOTTOM + 16, load.loadN() == 0 ? "0" : text("%.4g", load.loadN()));
                right = x;
            }
        }
        for (int i = -2; i <= 2; i++) {
            double valueN = i * heightN / 2;
            label("y", LEFT - 8 - 2 / CM, y(valueN), i == 0 ? "0" : text("%.2g", valueN));
        }
        label("x", LEFT + (WIDTH - LEFT - RIGHT) / 2, HEIGHT - 6, "load in N");
    }

    /** A text whose middle line is at y. */
    private void label(String side, double x, double y, String words) {
        svg.append(text(
                "<span class=\"%s\" style=\"left:%.3fcm;top:%.3fcm\">%s</span>", side, x * CM, y * CM - 0.2, words));
    }

    private void line(double x1, double y1, double x2, double y2, String colour, String dashes) {
        svg.append(text(
                "<line x1=\"%.2f\" y1=\"%.2f\" x2=\"%.2f\" y2=\"%.2f\" stroke=\"%s\"%s/>",
                x(x1), y(y1), x(x2), y(y2), colour, dashes.isEmpty() ? "" : " stroke-dasharray=\"" + dashes + "\""));
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }

    private double x(double loadN) {
        return LEFT + (loadN - leastN) / (mostN - leastN) * (WIDTH - LEFT - RIGHT);
    }

    private double y(double residualN) {
        double middle = TOP + (HEIGHT - TOP - BOTTOM) / 2;
        return middle - residualN / heightN * (HEIGHT - TOP - BOTTOM) / 2;
    }
}
