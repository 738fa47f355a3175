package io.heldmark.model;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What each cell under a plate carried at the times of one {@link Window} of their sum.
 *
 * <p>Forces are newtons above the cell's own session zero, NaN where they were not kept; immutable.
 */
public final class PlateForces {
    /**
     * A cell and where it stands.
     *
     * @param info the channel.
     * @param zero its own zero.
     * @param factor by which its force enters the sum.
     * @param xMm place along x, in millimetres.
     * @param yMm place along y.
     */
    public record Cell(ChannelInfo info, ZeroReference zero, double factor, double xMm, double yMm) {}

    private final List<Cell> cells;
    private final double[][] forceN;
    private final double leastN;
    private final double placeStandardUncertaintyMm;
    private final @Nullable String notMeasured;

    /**
     * Takes what is known; the arrays are not copied and must not change any more.
     *
     * @param forceN for each cell the force at each sample of the window.
     * @param leastN least force on the plate of which a place is said.
     * @param placeStandardUncertaintyMm of each cell along each axis.
     * @param notMeasured why no place can be said of these forces; absent where one can.
     */
    public PlateForces(
            List<Cell> cells,
            double[][] forceN,
            double leastN,
            double placeStandardUncertaintyMm,
            @Nullable String notMeasured) {
        this.cells = List.copyOf(cells);
        this.forceN = forceN;
        this.leastN = leastN;
        this.placeStandardUncertaintyMm = placeStandardUncertaintyMm;
        this.notMeasured = notMeasured;
    }

    /** Returns the cells. */
    public List<Cell> cells() {
        return cells;
    }

    /** Returns the force of a cell at a sample of the window, in newtons. */
    public double forceN(int cell, int index) {
        return forceN[cell][index];
    }

    /** Returns the least force on the plate of which a place is said, in newtons. */
    public double leastN() {
        return leastN;
    }

    /** Returns the standard uncertainty of each cell's place along each axis, in millimetres. */
    public double placeStandardUncertaintyMm() {
        return placeStandardUncertaintyMm;
    }

    /** Returns why no place can be said of these forces; absent where one can. */
    public @Nullable String notMeasured() {
        return notMeasured;
    }
}
