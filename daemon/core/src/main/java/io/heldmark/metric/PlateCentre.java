package io.heldmark.metric;

import io.heldmark.model.CentreOfPressure;
import io.heldmark.model.Quantity;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * The centre of pressure of a plate on cells: the point about which the vertical forces have no moment.
 *
 * <p><b>Formula.</b> With the force a_i F_i at (x_i, y_i), S = sum of a_i F_i: x = sum of a_i F_i x_i / S, y likewise (balance of
 * moments of parallel forces, any textbook of statics).
 *
 * <p><b>Uncertainty.</b> First order (GUM 5.1.2), with c_i = (x_i - x) / S:
 *
 * <pre>u^2(x) = sum of (c_i a_i u(F_i))^2 + sum of (a_i F_i / S)^2 u_p^2</pre>
 *
 * for places of the cells known to u_p each. The forces' errors are taken as independent; what they have in common as a share (the
 * same masses in all calibrations) moves no centre, so that u is then too large. It grows as 1 / S: below a stated force nothing is
 * said.
 *
 * <p><b>What it leaves out.</b> Forces along the plate: a push by H at a height h over the cells moves the centre by h H / S. A plate that
 * bends, and cells that carry moments of their own.
 */
public final class PlateCentre {
    private final double[] factors;
    private final double[] xMm;
    private final double[] yMm;
    private final double leastN;
    private final double placeUMm;

    /**
     * Makes it for a plate.
     *
     * @param factors factor of each cell, all of one sign.
     * @param xMm place of each cell along x.
     * @param yMm place of each cell along y.
     * @param leastN least force at which a centre is said, above 0.
     * @param placeUMm standard uncertainty of each cell's place along each axis.
     */
    public PlateCentre(double[] factors, double[] xMm, double[] yMm, double leastN, double placeUMm) {
        if (xMm.length != factors.length || yMm.length != factors.length || !(leastN > 0) || !(placeUMm >= 0)) {
            throw new IllegalArgumentException("a place for each cell and a force above 0 are needed: leastN=" + leastN
                    + ", placeUMm=" + placeUMm);
        }
        this.factors = factors.clone();
        this.xMm = xMm.clone();
        this.yMm = yMm.clone();
        this.leastN = leastN;
        this.placeUMm = placeUMm;
    }

    /** Returns the centre of these forces above the zeros of their cells, in the order of the cells; absent where one is not known. */
    public CentreOfPressure of(List<@Nullable Quantity> forces) {
        double sumN = 0;
        for (int i = 0; i < factors.length; i++) {
            Quantity force = forces.get(i);
            if (force == null) {
                return CentreOfPressure.none("a cell under the plate gives no force");
            }
            sumN += factors[i] * force.value();
        }
        if (!(Math.abs(sumN) >= leastN)) {
            return CentreOfPressure.none(
                    String.format(Locale.ROOT, "the plate carries less than %s N", Double.toString(leastN))
                            .replace(".0 N", " N"));
        }
        return new CentreOfPressure(along(xMm, forces, sumN), along(yMm, forces, sumN), null);
    }

    private Quantity along(double[] placesMm, List<@Nullable Quantity> forces, double sumN) {
        double moment = 0;
        double places = 0;
        for (int i = 0; i < factors.length; i++) {
            double share = factors[i] * value(forces, i) / sumN;
            moment += share * placesMm[i];
            places += share * share;
        }
        double variance = places * placeUMm * placeUMm;
        for (int i = 0; i < factors.length; i++) {
            Quantity force = forces.get(i);
            double u = force == null ? 0 : force.standardUncertainty();
            double part = factors[i] * u * (placesMm[i] - moment) / sumN;
            variance += part * part;
        }
        return new Quantity(moment, Math.sqrt(variance), "mm");
    }

    private static double value(List<@Nullable Quantity> forces, int i) {
        Quantity force = forces.get(i);
        return force == null ? 0 : force.value();
    }
}
