package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertNull;

import io.heldmark.link.LinkState;
import io.heldmark.model.Bend;
import io.heldmark.model.Boundaries;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.model.ZeroReference;
import io.heldmark.protocol.Describe;
import io.heldmark.testing.EncodedCell;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class StationEventJsonTest {
    private static final ResumePoint POINT = new ResumePoint(
            List.of(
                    new ResumePoint.LinkPoint(1, LinkState.UP, "", "AAEC"),
                    new ResumePoint.LinkPoint(0, LinkState.FAULT, "the port is in use", "")),
            List.of(new ResumePoint.ZeroPoint(0, ZeroReference.taken(-12.345678901234567, 0.1, 5))),
            new Target(200, 10));

    private static final BoundCalibration BENT = new BoundCalibration(
            "cell-7/1 v2",
            "cell-7",
            1,
            new StationCalibration(
                    -4291.123456789,
                    0.1 + 0.2,
                    0.0011,
                    new CellCalibration(
                            800, Double.NaN, 5e-4, "plates", List.of(0.04, 1e-5, 0., 1e-5, 1e-6, 0., 0., 0., 1e-13)),
                    new Bend(1e-5 / 3, -100, 800)),
            false);

    private static final SaidConditions SAID = new SaidConditions(
            TestConditions.UNKNOWN.toBuilder()
                    .cue(TestConditions.Cue.EXPLOSIVE)
                    .contact(TestConditions.Contact.HEEL_PLATE)
                    .bodyMassKg(71.3, 0.1 + 0.2)
                    .build(),
            TestConditions.UNKNOWN.toBuilder().ownMaximumN(1000 / 3.0).build(),
            TestConditions.UNKNOWN);

    /** Every number keeps all its bits, every text its characters. */
    @Test
    void shouldComeBackAsItWas() {
        List<StationEvent> events = List.of(
                new StationEvent.ClockTick(7),
                new StationEvent.LinkChanged(2, LinkState.DOWN, "it was \"unplugged\"\n", 7),
                new StationEvent.ZeroAsked(List.of(), 7),
                new StationEvent.ZeroAsked(List.of(3, 0), 7),
                new StationEvent.TapAsked(List.of(), false, 7),
                new StationEvent.TapAsked(List.of(1, 0), true, 7),
                new StationEvent.PingSent(1, 65_535, 7),
                new StationEvent.Marked("Größe ✓ {\"event\":\"clock\"}", 7),
                new StationEvent.TargetSet(new Target(0.1 + 0.2, 12.5), 7),
                new StationEvent.TargetSet(null, 7),
                new StationEvent.TrialsSaid(SAID, 7),
                new StationEvent.TrialsSaid(SaidConditions.NONE, 7),
                new StationEvent.Resumed(new ResumePoint(List.of(), List.of(), null, SAID, List.of()), 7),
                new StationEvent.BoundaryChanged(
                        new BoundaryChange(
                                1, 1L << 55, BoundaryChange.Kind.MOVE, new Boundaries(1L << 54, 1L << 55, 1L << 56)),
                        7),
                new StationEvent.BoundaryChanged(new BoundaryChange(1, 9, BoundaryChange.Kind.UNDO, null), 7),
                new StationEvent.BytesLost(0, 1L << 40, 7),
                new StationEvent.BoundaryChanged(
                        new BoundaryChange(1, 55, BoundaryChange.Kind.MOVE, new Boundaries(1, 2, 1L << 53)), 7),
                new StationEvent.Resumed(POINT, 7),
                new StationEvent.CalibrationChosen(BENT, 7),
                new StationEvent.Resumed(
                        new ResumePoint(List.of(), List.of(), null, SaidConditions.NONE, List.of(BENT)), 7),
                new StationEvent.Resumed(new ResumePoint(List.of(), List.of(), null), 7));
        for (StationEvent event : events) {
            String json = StationEventJson.write(event);
            assertNotNull(json, event.toString());
            assertEquals(event, StationEventJson.read(json, 7), json);
        }
    }

    @Test
    void shouldHaveNoFormForBytesSent() {
        assertNull(StationEventJson.write(new StationEvent.BytesSent(0, new byte[1], 7)));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "{",
                "[]",
                "{}",
                "{\"event\":\"mood\"}",
                "{\"event\":\"boundary\",\"channel\":0,\"automaticOnsetNs\":1,\"change\":\"push\"}",
                "{\"event\":\"boundary\",\"channel\":0,\"change\":\"undo\"}",
                "{\"event\":\"boundary\",\"channel\":0,\"automaticOnsetNs\":1,\"change\":\"move\",\"onsetNs\":1}",
                "{\"event\":\"linkState\",\"link\":0,\"state\":\"HAPPY\"}",
                "{\"event\":\"linkState\",\"state\":\"UP\"}",
                "{\"event\":\"pingSent\",\"pingId\":1}",
                "{\"event\":\"pingSent\",\"link\":\"x\",\"pingId\":1}",
                "{\"event\":\"bytesLost\",\"bytes\":4}",
                "{\"event\":\"target\",\"forceN\":1e300,\"tolerancePercent\":1}",
                "{\"event\":\"trials\",\"cue\":\"loud\"}",
                "{\"event\":\"trials\",\"bodyMassKg\":0}",
                "{\"event\":\"trials\",\"left\":{\"left\":{}}}",
                "{\"event\":\"calibration\",\"deviceId\":\"c\"}",
                "{\"event\":\"calibration\",\"deviceId\":\"\",\"newtonPerCount\":1}",
                "{\"event\":\"calibration\",\"deviceId\":\"c\",\"newtonPerCount\":1,\"bendPerN\":1}",
                "{\"event\":\"resume\",\"links\":[{\"state\":\"UP\"}]}"
            })
    void shouldLeaveOutWhatIsNotUsable(String json) {
        assertNull(StationEventJson.read(json, 7));
    }

    @Test
    void shouldCarryADescriptionAsText() {
        Describe describe = EncodedCell.describe("cell-7", Describe.CAN_COMMAND, 8);
        assertEquals(describe, ResumePoint.describe(ResumePoint.text(describe)));
        assertNull(ResumePoint.describe(""));
        assertNull(ResumePoint.describe("not Base64!"));
        assertNull(ResumePoint.describe("AAEC"), "Base64 of no description");
    }
}
