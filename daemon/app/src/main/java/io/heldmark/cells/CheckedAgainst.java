package io.heldmark.cells;

import io.heldmark.calibration.CalibrationException;
import io.heldmark.calibration.CalibrationReading;
import io.heldmark.calibration.QuickCheck;
import io.heldmark.cell.SteadyLevel;
import io.heldmark.model.ChannelInfo;
import io.heldmark.pipeline.CalibrationVersion;
import io.heldmark.pipeline.StationCalibration;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.jspecify.annotations.Nullable;

/**
 * The calibration that a quick check compares a cell with.
 *
 * @param id which saved one it is; {@code factory} or {@code link} where it is none.
 * @param forceN newtons of counts, up to a constant.
 * @param newtonPerCount its slope.
 * @param relativeU relative standard uncertainty of the slope.
 */
record CheckedAgainst(String id, DoubleUnaryOperator forceN, double newtonPerCount, double relativeU) {
    /** The eight parts that {@link SteadyLevel} compares, taken as independent: neighbours of a filtered signal are not. */
    private static final double INDEPENDENT = 8;

    /** Takes the saved version that the channel uses, else what the channel says of itself. */
    static CheckedAgainst of(ChannelInfo channel, @Nullable CalibrationVersion inUse) {
        if (inUse != null) {
            StationCalibration saved = inUse.bound().calibration();
            return new CheckedAgainst(inUse.bound().id(), saved::forceN, saved.newtonPerCount(), saved.relativeU());
        }
        String id = channel.calibration().equals("station") ? "link" : channel.calibration();
        double slope = channel.resolution();
        return new CheckedAgainst(id, counts -> counts * slope, slope, channel.calibrationRelativeU());
    }

    /**
     * Judges two readings. Where no saved calibration tells whether counts rise with force, the load decides.
     *
     * <p>The scatter of each reading's mean is sd / sqrt({@value #INDEPENDENT}): common practice, no published source.
     */
    QuickCheck judge(CheckPlan plan, SteadyLevel zero, SteadyLevel loaded) {
        double loadN = plan.loadN();
        boolean turned = (id.equals("link") || id.equals("factory")) && loaded.meanCounts() < zero.meanCounts();
        double sign = turned ? -1 : 1;
        List<CalibrationReading> readings = List.of(
                new CalibrationReading("1", "", true, 0, sign * zero.meanCounts(), 1),
                new CalibrationReading("1", "", true, loadN, sign * loaded.meanCounts(), 2));
        double scatterN = Math.abs(newtonPerCount)
                * StrictMath.hypot(zero.sdCounts(), loaded.sdCounts())
                / Math.sqrt(INDEPENDENT);
        try {
            double loadU = plan.reference().relativeU();
            return QuickCheck.of(readings, forceN, newtonPerCount, relativeU, loadU)
                    .get(0)
                    .scattered(scatterN);
        } catch (CalibrationException e) {
            throw Refusal.bad(String.valueOf(e.getMessage()));
        }
    }
}
