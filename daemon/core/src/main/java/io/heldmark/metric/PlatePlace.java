package io.heldmark.metric;

import io.heldmark.model.CentreOfPressure;
import io.heldmark.model.MetricValue;
import io.heldmark.model.PlateForces;
import io.heldmark.model.Quantity;
import io.heldmark.model.Window;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Where the force on a plate acts while it is highest: the centre of pressure of the stretch that {@link PeakForce} or {@link
 * BestMean} is taken from.
 *
 * <p><b>Formula.</b> {@link PlateCentre} of the means over that stretch of each cell's force above its own zero. That is the mean of the
 * centre over time, weighted with the force; a stretch at rest on an edge does not count as much as one at full load.
 *
 * <p><b>Uncertainty.</b> That of {@link PlateCentre}, from each cell's calibration, zero, drift and rounding ({@link DeviceUncertainty}) and
 * its own noise: the standard deviation over the 500 ms before the onset, over the root of as many samples as count as
 * independent by the correlation of the sum. A person who sways there makes it too large, not too small.
 *
 * <p><b>Degenerate.</b> A channel that is no plate does not have it. No whole stretch, cells that were not zeroed or less force than {@code
 * plate.leastN}: not computed.
 *
 * <p><b>Source.</b> Balance of moments, any textbook of statics; GUM 5.1.2. The stretch: common practice, no published source.
 */
public final class PlatePlace implements Metric {
    private static final int LEAST_REST = 10;
    private static final long REST_NS = 500_000_000L;

    private final String id;
    private final boolean alongX;
    private final long spanNs;

    /**
     * Makes the metric.
     *
     * @param alongX along x, else along y.
     * @param best over the best second, else over the 100 ms of the peak.
     */
    public PlatePlace(boolean alongX, boolean best) {
        id = "plate." + (alongX ? "x" : "y") + (best ? ".best-1s" : ".peak");
        this.alongX = alongX;
        spanNs = best ? 1_000_000_000L : PeakForce.SPAN_NS;
    }

    @Override
    public String id() {
        return id;
    }

    @Override
    public String unit() {
        return "mm";
    }

    @Override
    public boolean isFor(Window window) {
        return window.plate() != null;
    }

    @Override
    public Description describe() {
        String span = spanNs == PeakForce.SPAN_NS ? "100 ms of the peak force" : "best second";
        return new Description(
                "Centre of pressure along " + (alongX ? "x" : "y") + ", " + span,
                "Balance of moments of the cells' mean forces in the " + span
                        + ", each above its own zero: sum of F x / sum of F. Only of sums whose cells have places.",
                "A cell was not zeroed, the plate carries less than plate.leastN, no such stretch is whole, or no rest was seen"
                        + " before the onset.",
                "Calibration, zero, drift, resolution and noise of each cell, and the places of the cells.",
                "Balance of moments (statics); the stretch: common practice, no published source.");
    }

    @Override
    public MetricValue compute(Window window) {
        PlateForces plate = window.plate();
        if (plate == null) {
            return MetricValue.notComputed(id, "the channel is no plate on cells whose places are given");
        }
        if (plate.notMeasured() != null) {
            return MetricValue.notComputed(id, plate.notMeasured());
        }
        Trace t = Trace.of(window);
        SlidingMean best = spanNs == PeakForce.SPAN_NS ? t.peak() : SlidingMean.highest(t, spanNs);
        if (best == null) {
            return MetricValue.notComputed(id, BestMean.reason(t, spanNs));
        }
        if (t.onsetIndex() - restFrom(t) < LEAST_REST) {
            return MetricValue.notComputed(id, "no rest before the onset tells how the cells scatter");
        }
        CentreOfPressure centre = centre(t, plate, best);
        Quantity place = alongX ? centre.x() : centre.y();
        return place == null
                ? MetricValue.notComputed(id, String.valueOf(centre.notMeasured()))
                : MetricValue.of(id, place.value(), place.standardUncertainty(), unit());
    }

    private CentreOfPressure centre(Trace t, PlateForces plate, SlidingMean best) {
        List<@Nullable Quantity> forces = new ArrayList<>();
        for (int cell = 0; cell < plate.cells().size(); cell++) {
            forces.add(mean(t, plate, cell, best));
        }
        List<PlateForces.Cell> cells = plate.cells();
        return new PlateCentre(
                        cells.stream().mapToDouble(PlateForces.Cell::factor).toArray(),
                        cells.stream().mapToDouble(PlateForces.Cell::xMm).toArray(),
                        cells.stream().mapToDouble(PlateForces.Cell::yMm).toArray(),
                        plate.leastN(),
                        plate.placeStandardUncertaintyMm())
                .of(forces);
    }

    private @Nullable Quantity mean(Trace t, PlateForces plate, int cell, SlidingMean best) {
        PlateForces.Cell of = plate.cells().get(cell);
        DeviceUncertainty device = DeviceUncertainty.of(of.info(), of.zero(), t.onsetNs());
        double independent = device.independentSamples(best.samples(), t.restingCorrelationSamples(), spanNs * 1e-9);
        double meanN = mean(plate, cell, best.firstIndex(), best.firstIndex() + best.samples());
        int from = restFrom(t);
        double restN = mean(plate, cell, from, t.onsetIndex());
        double squares = 0;
        for (int i = from; i < t.onsetIndex(); i++) {
            double off = plate.forceN(cell, i) - restN;
            squares += off * off;
        }
        double noiseN = Math.sqrt(squares / (t.onsetIndex() - from - 1));
        boolean known = Double.isFinite(meanN) && Double.isFinite(noiseN);
        return known ? new Quantity(meanN, device.ofMean(meanN, noiseN, independent), "N") : null;
    }

    private static int restFrom(Trace t) {
        return t.after(t.onsetNs() - REST_NS);
    }

    private static double mean(PlateForces plate, int cell, int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += plate.forceN(cell, i);
        }
        return sum / (to - from);
    }
}
