package io.heldmark.pipeline;

import io.heldmark.calibrate.Calibrator;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.FactoryCalibration;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * What a channel is, from what its device says and what the station was told.
 *
 * <p><b>Limb.</b> As the station was told; where it was told of no channel of the link, a channel whose name begins with
 * {@code left} or {@code right} (any case) is that limb's.
 *
 * <p><b>Bandwidth.</b> As the link's address says, else as the device does.
 *
 * <p><b>Calibration.</b> That of a re-evaluation over that of the link's address over the station's newest of the device over the
 * factory's; without any the numbers stay counts.
 */
final class ChannelFactory {
    /** A channel and how its counts become newtons. */
    record Made(ChannelInfo info, Calibrator calibrator) {}

    private ChannelFactory() {}

    static Made make(int number, LinkSetup link, Describe device, Channel channel) {
        ChannelSetup setup = setupOf(link, device, channel.index());
        StationCalibration station = station(link, setup, device.deviceId(), channel.index());
        FactoryCalibration factory = channel.calibration().orElse(null);
        Calibrator calibrator = calibrator(station, factory);
        String origin = station != null ? "station" : factory != null ? "factory" : "unknown";
        String name = channel.name().isEmpty() ? "channel " + channel.index() : channel.name();
        ChannelInfo info = new ChannelInfo(
                number,
                link.name(),
                device.deviceId(),
                channel.index(),
                name,
                limb(link, setup, name),
                device.sampleRateHz(),
                link.bandwidthHz() > 0 ? link.bandwidthHz() : channel.bandwidthHz(),
                channel.ratedLoadN(),
                calibrator.unit(),
                origin,
                calibrator.relativeU(),
                calibrator.resolution(),
                station == null ? CellCalibration.UNKNOWN : station.cell());
        return new Made(info, calibrator);
    }

    private static @Nullable ChannelSetup setupOf(LinkSetup link, Describe device, int index) {
        int lowest = device.channels().get(0).index();
        for (ChannelSetup setup : link.channels()) {
            int wanted = setup.deviceChannel() == ChannelSetup.FIRST ? lowest : setup.deviceChannel();
            if (wanted == index) {
                return setup;
            }
        }
        return null;
    }

    private static @Nullable StationCalibration station(
            LinkSetup link, @Nullable ChannelSetup setup, String deviceId, int channel) {
        StationCalibration told = setup == null ? null : setup.calibration();
        BoundCalibration bound = bound(link, deviceId, channel, told != null);
        return bound == null ? told : bound.calibration();
    }

    private static @Nullable BoundCalibration bound(LinkSetup link, String deviceId, int channel, boolean told) {
        for (BoundCalibration bound : link.calibrations()) {
            if (bound.isOf(deviceId, channel) && (bound.overrides() || !told)) {
                return bound;
            }
        }
        return null;
    }

    /** Returns the calibration of a device's channel that a link works with; null where its address says another, or none does. */
    static @Nullable BoundCalibration bound(LinkSetup link, String deviceId, int channel) {
        boolean told = link.channels().stream()
                .anyMatch(c -> c.calibration() != null
                        && (c.deviceChannel() == channel || c.deviceChannel() == ChannelSetup.FIRST));
        return bound(link, deviceId, channel, told);
    }

    private static Calibrator calibrator(@Nullable StationCalibration station, @Nullable FactoryCalibration factory) {
        if (station != null) {
            return station.calibrator();
        }
        if (factory != null) {
            double u = factory.relativeStandardUncertainty();
            boolean said = u >= 0 && u <= 1;
            return new Calibrator(factory.zeroCounts(), factory.newtonPerCount(), said ? u : Double.NaN);
        }
        return Calibrator.uncalibrated();
    }

    private static Limb limb(LinkSetup link, @Nullable ChannelSetup setup, String name) {
        if (setup != null) {
            return setup.limb();
        }
        String lower = name.toLowerCase(Locale.ROOT);
        if (!link.channels().isEmpty()) {
            return Limb.NONE;
        }
        return lower.startsWith("left") ? Limb.LEFT : lower.startsWith("right") ? Limb.RIGHT : Limb.NONE;
    }
}
