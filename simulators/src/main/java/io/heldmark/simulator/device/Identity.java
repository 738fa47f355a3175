package io.heldmark.simulator.device;

import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.FactoryCalibration;
import io.heldmark.simulator.scenario.CellSpec;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** What a device knows of itself: its description and the calibrations in its memory. */
final class Identity {
    /** -3 dB point of a mean over T is 0.443 / T: where sin(x) / x with x = pi f T is 1/sqrt(2). */
    private static final double MEAN_BANDWIDTH = 0.443;

    private final CellSpec cell;
    private final @Nullable FactoryCalibration[] calibrations;

    Identity(CellSpec cell) {
        this.cell = cell;
        calibrations = new FactoryCalibration[cell.channels().size()];
        for (int i = 0; i < calibrations.length; i++) {
            calibrations[i] = factory(cell, cell.channels().get(i).calibration());
        }
    }

    /**
     * Returns the describe message.
     *
     * @param rateMilliHz sample rate as it is now, in thousandths of a hertz.
     */
    Describe describe(long rateMilliHz) {
        List<Channel> channels = new ArrayList<>();
        for (int i = 0; i < calibrations.length; i++) {
            CellSpec.ChannelSpec spec = cell.channels().get(i);
            channels.add(new Channel(
                    i,
                    spec.name(),
                    cell.adc().bits(),
                    (float) bandwidthHz(),
                    (float) cell.adc().gain(),
                    (float) spec.ratedLoadN(),
                    Optional.ofNullable(calibrations[i])));
        }
        List<Long> rates = cell.supportedRatesHz().stream()
                .map(rateHz -> Math.round(rateHz * 1000))
                .toList();
        return new Describe(
                1,
                0,
                capabilities(),
                ClockBreach.statedTickRateHz(cell),
                rateMilliHz,
                cell.deviceIdentity(),
                cell.model(),
                cell.firmware(),
                rates,
                channels);
    }

    /** Returns the calibration of a channel; null where there is none. */
    @Nullable FactoryCalibration calibration(int channel) {
        return channel < calibrations.length ? calibrations[channel] : null;
    }

    /** Writes a channel's calibration; returns false where there is no such channel. */
    boolean write(int channel, FactoryCalibration calibration) {
        if (channel >= calibrations.length) {
            return false;
        }
        calibrations[channel] = calibration;
        return true;
    }

    private int capabilities() {
        int capabilities = cell.respondsToPings() ? Describe.CAN_PING : 0;
        if (cell.answersCommands()) {
            capabilities |= Describe.CAN_COMMAND
                    | Describe.CAN_IDENTIFY
                    | Describe.CAN_READ_CALIBRATION
                    | Describe.CAN_WRITE_CALIBRATION;
            capabilities |= cell.supportedRatesHz().isEmpty() ? 0 : Describe.CAN_SET_RATE;
        }
        return capabilities;
    }

    private double bandwidthHz() {
        if (cell.adc().bandwidthHz() > 0) {
            return cell.adc().bandwidthHz();
        }
        return cell.adc().averageS() > 0 ? MEAN_BANDWIDTH / cell.adc().averageS() : 0;
    }

    private static @Nullable FactoryCalibration factory(CellSpec cell, CellSpec.@Nullable Calibration spec) {
        if (spec == null) {
            return null;
        }
        double slope = (1 + spec.slopeErrorPercent() / 100) / cell.countsPerNewton();
        float relativeU = spec.relativeU() == 0 ? Float.NaN : (float) spec.relativeU();
        return new FactoryCalibration(
                cell.adc().offsetCounts() + spec.zeroErrorCounts(), (float) slope, relativeU, spec.date());
    }
}
