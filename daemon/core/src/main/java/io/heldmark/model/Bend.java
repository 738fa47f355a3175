package io.heldmark.model;

/**
 * How far a cell's curve is bent: counts = b0 + b1 F + b2 F^2, used the other way round.
 *
 * <p><b>Formula.</b> With y = (counts - b0) / b1, the force by the tangent at zero, and kappa = b2 / b1: y = F + kappa F^2, so that
 *
 * <pre>F = 2 y / (1 + sqrt(1 + 4 kappa y))</pre>
 *
 * (the root without cancellation). Beyond the calibrated loads the curve goes on straight, as the tangent at its end: a parabola
 * turns back sooner or later, and nothing is known of it there.
 *
 * <p><b>Bit for bit.</b> The four operations and the square root are exact to the last bit on every machine.
 *
 * @param perN kappa, in 1/N.
 * @param fromN lowest calibrated load, in newtons, at most 0.
 * @param toN highest calibrated load, in newtons, at least 0, more than {@code fromN}.
 */
public record Bend(double perN, double fromN, double toN) {
    /** Rejects a curve that turns back within the calibrated loads. */
    public Bend {
        boolean range = fromN <= 0 && toN >= 0 && toN > fromN && fromN >= -1e9 && toN <= 1e9;
        if (!range || !(1 + 2 * perN * fromN > 0 && 1 + 2 * perN * toN > 0)) {
            throw new IllegalArgumentException("the curve must not turn back between its ends, and hold zero: perN="
                    + perN + ", fromN=" + fromN + ", toN=" + toN);
        }
    }

    /** Returns the force whose value by the tangent at zero is given, in newtons. */
    public double forceN(double tangentN) {
        double highest = toN + perN * toN * toN;
        double lowest = fromN + perN * fromN * fromN;
        if (tangentN > highest) {
            return toN + (tangentN - highest) / (1 + 2 * perN * toN);
        }
        if (tangentN < lowest) {
            return fromN + (tangentN - lowest) / (1 + 2 * perN * fromN);
        }
        return 2 * tangentN / (1 + Math.sqrt(1 + 4 * perN * tangentN));
    }
}
