package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.link.LinkAddress;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Limb;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.FactoryCalibration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ChannelFactoryTest {
    private static Channel channel(int index, String name, FactoryCalibration calibration) {
        return new Channel(index, name, 24, 400, 128, 2000, Optional.ofNullable(calibration));
    }

    /** Makes the last of the channels of a device on this link. */
    private static ChannelFactory.Made make(String address, Limb limb, Channel... channels) {
        LinkSetup link = LinkSetup.of(List.of(new LinkSetup.Wanted(LinkAddress.parse(address), limb)))
                .get(0);
        Describe device = new Describe(1, 0, 0, 1_000_000, 80_000, "bench", "", "", List.of(), List.of(channels));
        return ChannelFactory.make(5, link, device, channels[channels.length - 1]);
    }

    @Test
    void shouldTakeWhatTheDeviceSays() {
        ChannelInfo info = make("tcp:c:1", Limb.NONE, channel(3, "", null)).info();
        assertEquals(5, info.channel());
        assertEquals("tcp:c:1", info.link());
        assertEquals("bench", info.deviceId());
        assertEquals(3, info.deviceChannel());
        assertEquals("channel 3", info.name());
        assertEquals(80, info.sampleRateHz());
        assertEquals(2000, info.ratedLoadN());
        assertEquals("count", info.unit());
        assertEquals("unknown", info.calibration());
        assertTrue(Double.isNaN(info.calibrationRelativeU()));
        assertEquals(1, info.resolution());
    }

    @Test
    void shouldTakeTheBandwidthOfTheAddressBeforeTheDevices() {
        Channel said = channel(0, "", null);
        Channel unsaid = new Channel(0, "", 24, 0, 128, 2000, Optional.empty());
        assertEquals(400, make("tcp:c:1", Limb.NONE, said).info().bandwidthHz());
        assertEquals(0, make("tcp:c:1", Limb.NONE, unsaid).info().bandwidthHz());
        assertEquals(
                262, make("tcp:c:1?bandwidth=262", Limb.NONE, unsaid).info().bandwidthHz());
        assertEquals(262, make("tcp:c:1?bandwidth=262", Limb.NONE, said).info().bandwidthHz());
    }

    @ParameterizedTest
    @CsvSource({
        "Left leg, NONE, LEFT",
        "right, NONE, RIGHT",
        "leftover, NONE, LEFT",
        "the left one, NONE, NONE",
        "left, RIGHT, RIGHT"
    })
    void shouldKnowTheLimb(String name, Limb told, Limb limb) {
        assertEquals(limb, make("tcp:c:1", told, channel(0, name, null)).info().limb());
    }

    @Test
    void shouldNotGuessALimbWhereTheStationWasToldOfAnother() {
        Channel told = channel(2, "pull", null);
        assertEquals(
                Limb.LEFT, make("tcp:c:1", Limb.LEFT, told).info().limb(), "the lowest channel, whatever its number");
        assertEquals(
                Limb.NONE,
                make("tcp:c:1", Limb.LEFT, told, channel(4, "right", null))
                        .info()
                        .limb());
        assertEquals(
                Limb.LEFT,
                make("tcp:c:1#4", Limb.LEFT, told, channel(4, "right", null))
                        .info()
                        .limb());
    }

    @Test
    void shouldPreferTheStationsCalibration() {
        FactoryCalibration factory = new FactoryCalibration(100, 0.5f, 0.002f, 0);
        ChannelFactory.Made made = make("tcp:c:1", Limb.LEFT, channel(0, "", factory));
        assertEquals("factory", made.info().calibration());
        assertEquals("N", made.info().unit());
        assertEquals(0.5, made.info().resolution());
        assertEquals(0.002, made.info().calibrationRelativeU(), 1e-9);
        double[] forceN = new double[1];
        made.calibrator().convert(new int[] {110}, 0, 1, 1, forceN);
        assertEquals(5, forceN[0], 1e-9);

        ChannelFactory.Made own = make("tcp:c:1?slope=-2&zero=10&u=0.01", Limb.LEFT, channel(0, "", factory));
        assertEquals("station", own.info().calibration());
        assertEquals(2, own.info().resolution());
        own.calibrator().convert(new int[] {110}, 0, 1, 1, forceN);
        assertEquals(-200, forceN[0], 1e-9);
        assertEquals(0.01, own.info().calibrationRelativeU());
    }

    @Test
    void shouldKnowADeviceByItsIdentity() {
        FactoryCalibration factory = new FactoryCalibration(100, 0.5f, 0.002f, 0);
        BoundCalibration bound =
                new BoundCalibration("bench/0 v1", "bench", 0, new StationCalibration(0, 0.25, 0.001), false);
        BoundCalibration other =
                new BoundCalibration("shelf/0 v1", "shelf", 0, new StationCalibration(0, 7, 0.001), true);
        List<BoundCalibration> both = List.of(other, bound);
        assertEquals(0.25, resolution("tcp:c:1", both, factory));
        assertEquals(2, resolution("tcp:c:1?slope=2", both, factory), "the address is the user's last word");
        assertEquals(0.25, resolution("tcp:c:1?slope=2", List.of(other, bound.overriding()), factory));
        assertEquals(0.5, resolution("tcp:c:1", List.of(other), factory));
        BoundCalibration channel = new BoundCalibration("bench/1 v1", "bench", 1, bound.calibration(), true);
        assertEquals(0.5, resolution("tcp:c:1", List.of(channel), factory));
    }

    private static double resolution(String address, List<BoundCalibration> bound, FactoryCalibration factory) {
        LinkSetup link = LinkSetup.of(List.of(new LinkSetup.Wanted(LinkAddress.parse(address), Limb.LEFT)))
                .get(0)
                .with(bound);
        Channel channel = channel(0, "", factory);
        Describe device = new Describe(1, 0, 0, 1_000_000, 80_000, "bench", "", "", List.of(), List.of(channel));
        return ChannelFactory.make(0, link, device, channel).info().resolution();
    }

    @ParameterizedTest
    @CsvSource({"NaN", "1.5", "-0.1"})
    void shouldNotBelieveAnUncertaintyThatCannotBe(float u) {
        ChannelInfo info = make("tcp:c:1", Limb.LEFT, channel(0, "", new FactoryCalibration(0, 1, u, 0)))
                .info();
        assertTrue(Double.isNaN(info.calibrationRelativeU()));
    }
}
