package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.ConfigException;
import io.heldmark.link.Link.Binding;
import io.heldmark.link.LinkAddress;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.Limb;
import io.heldmark.record.LinkHeader;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class LinkSetupsTest {
    private static List<LinkSetup> of(String... limbsAndAddresses) {
        List<LinkSetup.Wanted> wanted = new ArrayList<>();
        for (int i = 0; i < limbsAndAddresses.length; i += 2) {
            wanted.add(new LinkSetup.Wanted(
                    LinkAddress.parse(limbsAndAddresses[i + 1]), Limb.valueOf(limbsAndAddresses[i])));
        }
        return LinkSetup.of(wanted);
    }

    private static ConfigException refusal(String... limbsAndAddresses) {
        return assertThrows(ConfigException.class, () -> of(limbsAndAddresses));
    }

    @Test
    void shouldKeepWhatIsTheLinksAndTakeWhatIsTheStations() {
        LinkSetup setup = of("LEFT", "serial:/dev/x?baud=9600&slope=-1.5e-2&zero=120&u=0.002&binding=text#3")
                .get(0);
        assertEquals("serial:/dev/x?baud=9600&binding=text", setup.name());
        assertEquals(Map.of("baud", "9600", "binding", "text"), setup.address().options());
        assertEquals(-1, setup.address().channel(), "the channel is the station's matter");
        assertEquals(Binding.TEXT, setup.binding());
        assertEquals(
                List.of(new ChannelSetup(
                        3, Limb.LEFT, new StationCalibration(120, -0.015, 0.002, CellCalibration.UNKNOWN))),
                setup.channels());
    }

    @Test
    void shouldKeepTheBandwidthInTheNameSoThatARecordingSaysIt() {
        LinkSetup setup = of("LEFT", "serial:/dev/x?bandwidth=262&slope=0.1").get(0);
        assertEquals("serial:/dev/x?bandwidth=262", setup.name());
        assertEquals(262, setup.bandwidthHz());
        LinkSetup replayed = LinkFacts.read(LinkFacts.write(setup));
        assertEquals(262, replayed.bandwidthHz());
        assertEquals(100, replayed.withBandwidth(100).bandwidthHz(), "what is said of a recording wins");
        assertEquals(setup.name(), replayed.withBandwidth(100).name());
        assertEquals(262, replayed.withBandwidth(0).bandwidthHz());
        assertEquals(0, of("LEFT", "serial:/dev/x").get(0).bandwidthHz());
        for (String wrong : List.of("0", "2e6", "fast", "-1")) {
            assertEquals(
                    "bandwidth=" + wrong + " is not allowed: a number from 0.1 to 1000000.0",
                    refusal("LEFT", "serial:/dev/x?bandwidth=" + wrong).getMessage());
        }
    }

    @Test
    void shouldNameTheLowestChannelWhereNoneIsNamed() {
        assertEquals(
                List.of(new ChannelSetup(ChannelSetup.FIRST, Limb.RIGHT, null)),
                of("RIGHT", "tcp:cell:1").get(0).channels());
        assertEquals(List.of(), of("NONE", "tcp:cell:1").get(0).channels(), "nothing is known of its channels");
        assertEquals(
                List.of(new ChannelSetup(2, Limb.NONE, null)),
                of("NONE", "tcp:cell:1#2").get(0).channels());
    }

    @Test
    void shouldMakeOneLinkOfSeveralChannels() {
        List<LinkSetup> setups = of("LEFT", "tcp:cell:1#0", "NONE", "tcp:other:1", "RIGHT", "tcp:cell:1?slope=0.5#1");
        assertEquals(
                List.of("tcp:cell:1", "tcp:other:1"),
                setups.stream().map(LinkSetup::name).toList());
        assertEquals(
                List.of(
                        new ChannelSetup(0, Limb.LEFT, null),
                        new ChannelSetup(
                                1, Limb.RIGHT, new StationCalibration(0, 0.5, Double.NaN, CellCalibration.UNKNOWN))),
                setups.get(0).channels());
        assertEquals(
                2,
                of("LEFT", "tcp:cell:1", "RIGHT", "tcp:cell:1#1")
                        .get(0)
                        .channels()
                        .size());
    }

    @ParameterizedTest
    @CsvSource({"tcp:c:1#0, tcp:c:1#0", "tcp:c:1, tcp:c:1", "tcp:c:1, tcp:c:1#0", "tcp:c:1#0, tcp:c:1"})
    void shouldRefuseOneChannelForBothLimbs(String left, String right) {
        String message = String.valueOf(refusal("LEFT", left, "RIGHT", right).getMessage());
        assertTrue(message.contains("twice"), message);
    }

    @Test
    void shouldRefuseOneLinkWithTwoOptions() {
        String message =
                String.valueOf(refusal("LEFT", "serial:/dev/x?baud=9600#0", "RIGHT", "serial:/dev/x?baud=115200#1")
                        .getMessage());
        assertTrue(message.contains("other options"), message);
    }

    @ParameterizedTest
    @CsvSource({
        "tcp:c:1, AUTO",
        "ble:aa-bb, GATT",
        "tcp:c:1?binding=Bytes, BYTES",
        "tcp:c:1?binding=gatt, GATT",
        "ble:aa-bb?binding=auto, AUTO"
    })
    void shouldKnowTheBinding(String address, Binding binding) {
        assertEquals(binding, of("LEFT", address).get(0).binding());
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "binding=morse",
                "slope=0",
                "slope=1e7",
                "slope=NaN",
                "slope=0x1p3",
                "slope=",
                "slope=1&zero=3e9",
                "slope=1&u=1.5",
                "slope=1&u=-0.1",
                "zero=120",
                "u=0.002"
            })
    void shouldRefuseWhatIsNoCalibration(String options) {
        String key = options.substring(options.lastIndexOf('&') + 1, options.lastIndexOf('='));
        String message = String.valueOf(refusal("LEFT", "tcp:c:1?" + options).getMessage());
        assertTrue(message.contains(key), message);
    }

    @Test
    void shouldComeBackFromTheHeaderOfARecording() {
        List<LinkSetup> setups = of(
                "LEFT", "serial:/dev/x?baud=9600&slope=0.01&zero=120&u=0.002#3",
                "RIGHT", "serial:/dev/x?baud=9600&slope=0.02#4",
                "NONE", "tcp:cell:1?binding=text");
        for (LinkSetup setup : setups) {
            LinkSetup read = LinkFacts.read(LinkFacts.write(setup));
            assertEquals(setup.name(), read.name());
            assertEquals(setup.binding(), read.binding());
            assertEquals(setup.channels(), read.channels());
        }
    }

    @Test
    void shouldComeBackWithTheCalibrationsOfDevices() {
        StationCalibration calibration = new StationCalibration(
                4291.5,
                -9.8e-4,
                0.0012,
                new CellCalibration(786, Double.NaN, 5e-4, "plates", List.of(.01, .0, .0, 1e-6)));
        List<BoundCalibration> bound = List.of(new BoundCalibration("cell-7/2 v3", "cell-7", 2, calibration, false));
        LinkSetup setup = of("LEFT", "tcp:cell:1").get(0).with(bound);
        assertEquals(bound, LinkFacts.read(LinkFacts.write(setup)).calibrations());
    }

    @Test
    void shouldTakeWhatAnotherProgramWroteAsFarAsItGoes() {
        LinkSetup read = LinkFacts.read(new LinkHeader("tcp:cell:1", "bytes", "{\"channels\":[{\"limb\":\"right\"}]}"));
        assertEquals(Binding.BYTES, read.binding());
        assertEquals(List.of(new ChannelSetup(ChannelSetup.FIRST, Limb.RIGHT, null)), read.channels());
        assertEquals(
                List.of(),
                LinkFacts.read(new LinkHeader("tcp:cell:1", "AUTO", "{}")).channels());
        assertNotNull(read.address());
    }
}
