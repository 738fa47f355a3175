package io.heldmark.pipeline;

import static io.heldmark.testing.EncodedCell.describe;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.link.LinkAddress;
import io.heldmark.link.LinkState;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Limb;
import io.heldmark.model.LinkHealth;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.ZeroReference;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.Reply;
import io.heldmark.testing.EncodedCell;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class StationCoreTest {
    private static final long MS = 1_000_000L;
    private static final long S = 1_000_000_000L;
    private static final int ASKABLE = Describe.CAN_COMMAND;

    private final Log log = new Log();
    private final Counters counters = new Counters();
    private final EncodedCell left = new EncodedCell();
    private final EncodedCell right = new EncodedCell();
    private final StationCore core = core(log);
    private long nowNs;

    /** What is told, with the flags and the newest values of the trace. */
    private static class Log implements StationListener {
        final EventLog all = new EventLog();
        final List<String> channels = new ArrayList<>();
        final List<String> notices = new ArrayList<>();
        final List<Integer> flags = new ArrayList<>();
        final double[] forceN = new double[8];

        @Override
        public void onSamples(SampleBatch trace) {
            all.onSamples(trace);
            flags.add(trace.flags);
            forceN[trace.channel] = trace.forceN[0];
        }

        @Override
        public void onChannels(List<ChannelInfo> next, List<TraceFilter> traceFilters, long atNs) {
            channels.clear();
            next.forEach(c -> channels.add(c.deviceId() + " " + c.deviceChannel() + " " + c.limb()));
        }

        @Override
        public void onNotice(String severity, String text, long atNs) {
            notices.add(severity + " " + text);
        }

        @Override
        public void onLinkHealth(LinkHealth health) {
            all.onLinkHealth(health);
        }

        LinkHealth newest() {
            return all.health.get(all.health.size() - 1);
        }
    }

    private StationCore core(StationListener out) {
        List<LinkSetup> setups = LinkSetup.of(List.of(
                new LinkSetup.Wanted(LinkAddress.parse("tcp:left:1?binding=bytes"), Limb.LEFT),
                new LinkSetup.Wanted(LinkAddress.parse("tcp:right:1?binding=bytes"), Limb.RIGHT)));
        return new StationCore(Config.resolve(Map.of(), Map.of("trace.lowPassHz", "0")), setups, out, counters);
    }

    private void feed(int link, byte[] bytes) {
        core.onChunk(link, nowNs, bytes, 0, bytes.length);
    }

    private void begin(int link, Describe describe) {
        core.onLinkState(link, LinkState.UP, "", nowNs);
        feed(link, (link == 0 ? left : right).message(describe));
    }

    private void stream(int link, int messages) {
        for (int i = 0; i < messages; i++) {
            nowNs += 10 * MS;
            feed(link, (link == 0 ? left : right).samples());
        }
    }

    @Test
    void shouldNeverGoBackInTimeThroughReconnectsAndOtherDevices() {
        nowNs = 90 * MS; // the first bytes waited: the first times are ahead of the truth
        begin(0, describe("a", ASKABLE, 1));
        feed(0, left.samples());
        nowNs = 0;
        stream(0, 20);
        core.onLinkState(0, LinkState.DOWN, "unplugged", nowNs);
        nowNs += 200 * MS;
        left.tick += 200_000;
        begin(0, describe("a", ASKABLE, 1));
        stream(0, 20);
        core.onLinkState(0, LinkState.DOWN, "unplugged", nowNs);
        left.tick = 123; // a device that counts from anew, then one with other ticks, then a rate that is set
        left.sequence = 0;
        begin(0, describe("b", ASKABLE, 1));
        stream(0, 20);
        begin(0, describe("c", ASKABLE, 1, 1000, 2 * EncodedCell.TICK_RATE_HZ));
        stream(0, 20);
        assertTrue(log.all.timeIncreases);
        assertEquals(810, log.all.samples);
        assertEquals(
                2,
                log.flags.stream()
                        .filter(f -> (f & SampleBatch.CLOCK_RESTARTED) != 0)
                        .count());
        assertEquals(3, log.all.gaps);
    }

    /** A broken invariant ends the trial of one link: it is told, counted, and times still only grow. */
    @Test
    void shouldBuildTheStagesOfALinkAnewAfterAFault() {
        Log once = new Log() {
            private boolean thrown;

            @Override
            public void onSamples(SampleBatch trace) {
                super.onSamples(trace);
                if (!thrown) {
                    thrown = true;
                    throw new IllegalStateException("broken");
                }
            }
        };
        StationCore faulty = core(once);
        faulty.onLinkState(0, LinkState.UP, "", 0);
        byte[] both = Arrays.copyOf(left.message(describe("a", 0, 1)), 1000);
        int length = left.message(describe("a", 0, 1)).length;
        byte[] first = left.samples();
        byte[] cut = left.samples();
        System.arraycopy(first, 0, both, length, first.length);
        System.arraycopy(cut, 0, both, length + first.length, cut.length);
        faulty.onChunk(0, 95 * MS, both, 0, length + first.length + cut.length); // late: times are ahead of the truth
        for (int i = 2; i < 40; i++) {
            byte[] next = left.samples();
            faulty.onChunk(0, (i + 1) * 10L * MS, next, 0, next.length);
        }
        assertEquals(1, counters.get(Counter.PROCESSING_FAULTS));
        assertEquals(1, once.notices.size());
        assertTrue(once.notices.get(0).startsWith("error tcp:left:1"), once.notices::toString);
        assertEquals(390, once.all.samples);
        assertTrue(once.all.timeIncreases);
        assertEquals(SampleBatch.GAP_BEFORE | SampleBatch.CLOCK_RESTARTED, once.flags.get(1));
        assertEquals(0, once.flags.get(2));
        assertEquals(0, once.newest().crcFailures());
    }

    @Test
    void shouldGoOnAtTheOtherLinkWhereOneFails() {
        begin(0, describe("a", 0, 1));
        begin(1, describe("b", 0, 1));
        core.onBytesLost(0, 777, nowNs);
        stream(1, 5);
        assertEquals(50, log.all.samples);
        assertEquals(
                List.of("warning tcp:left:1?binding=bytes: the station lost 777 bytes: it is too busy"), log.notices);
    }

    @Test
    void shouldNumberChannelsInTheOrderInWhichTheyAppearAndKeepTheirNumbers() {
        begin(1, describe("b", 0, 1));
        begin(0, describe("a", 0, 2));
        assertEquals(List.of("b 0 RIGHT", "a 0 LEFT", "a 1 NONE"), log.channels);
        feed(1, right.message(describe("b2", 0, 2)));
        assertEquals(List.of("b2 0 RIGHT", "a 0 LEFT", "a 1 NONE", "b2 1 NONE"), log.channels);
    }

    @Test
    void shouldCountSamplesThatNobodyCanUse() {
        core.onLinkState(0, LinkState.UP, "", nowNs);
        stream(0, 3);
        assertEquals(30, counters.get(Counter.SAMPLES_BEFORE_DESCRIBE));
        feed(0, left.message(describe("a", 0, 1)));
        left.mask = 0b101;
        stream(0, 2);
        assertEquals(20, counters.get(Counter.SAMPLES_OF_UNKNOWN_CHANNELS));
        assertEquals(20, log.all.samples);
        feed(0, left.pong(9, 1, 2));
        assertEquals(1, counters.get(Counter.PONGS_UNEXPECTED));
    }

    @Test
    void shouldSayWhyADeviceRefused() {
        begin(0, describe("a", ASKABLE, 1));
        feed(0, left.reply(2, Reply.OK));
        feed(0, left.reply(2, Reply.NOT_NOW));
        feed(0, left.reply(2, 77));
        assertEquals(
                List.of(
                        "warning tcp:left:1?binding=bytes refused a request: not in its present state",
                        "warning tcp:left:1?binding=bytes refused a request: result 77"),
                log.notices);
    }

    @Test
    void shouldIgnoreRequestsForChannelsThatDoNotExist() {
        begin(0, describe("a", 0, 1));
        core.onZeroRequest(new int[] {-1, 1, 99}, nowNs);
        assertTrue(log.all.zeros.stream().noneMatch(z -> z.state().equals("taking")));
        core.onZeroRequest(new int[] {0}, nowNs);
        assertFalse(counters.get(Counter.PROCESSING_FAULTS) > 0);
    }

    /** What a recording that begins within the session starts from gives the same trace from there on. */
    @Test
    void shouldResumeWithChannelsZerosAndTarget() {
        begin(1, describe("b", 0, 1));
        begin(0, describe("a", ASKABLE, 1));
        for (int i = 0; i < 300; i++) {
            nowNs += 10 * MS;
            feed(1, right.samples(new int[10]));
            feed(0, left.samples(4000, 4000, 4000, 4000, 4000, 4000, 4000, 4000, 4000, 4000)); // 40 N of resting limb
            core.onClock(nowNs);
            if (i == 20) {
                core.onZeroRequest(new int[] {1}, nowNs);
            }
        }
        core.onTarget(new Target(200, 10), nowNs);
        TestConditions heavy =
                TestConditions.UNKNOWN.toBuilder().bodyMassKg(70, 0.5).build();
        core.onTrials(new SaidConditions(heavy, TestConditions.UNKNOWN, TestConditions.UNKNOWN), nowNs);
        assertEquals(0, log.forceN[1], 0.01, "the zero was taken");

        ResumePoint point = core.resumePoint();
        assertEquals(
                List.of(1, 0),
                point.links().stream().map(ResumePoint.LinkPoint::link).toList());
        Log resumedLog = new Log();
        StationCore resumed = core(resumedLog);
        StationEvent event = new StationEvent.Resumed(point, nowNs);
        StationEvent read = StationEventJson.read(String.valueOf(StationEventJson.write(event)), nowNs);
        assertEquals(event, read);
        event.applyTo(resumed);
        byte[] next = left.samples(new int[] {9000, 9000, 9000, 9000, 9000, 9000, 9000, 9000, 9000, 9000});
        core.onChunk(0, nowNs + 10 * MS, next, 0, next.length);
        resumed.onChunk(0, nowNs + 10 * MS, next, 0, next.length);
        assertEquals(log.channels, resumedLog.channels);
        assertEquals(50, log.forceN[1], 0.01);
        assertEquals(log.forceN[1], resumedLog.forceN[1]);
        assertEquals(1, resumedLog.all.samples / 10);
        assertEquals(point, resumed.resumePoint(), "the target and what was said, too");
    }

    @Test
    void shouldResumeNothingThatDoesNotExist() {
        core.onResume(
                new ResumePoint(
                        List.of(new ResumePoint.LinkPoint(9, LinkState.UP, "", "")),
                        List.of(new ResumePoint.ZeroPoint(3, ZeroReference.taken(1, 1, 1))),
                        null),
                nowNs);
        assertEquals(List.of(), log.channels);
        assertEquals(List.of(), log.all.zeros);
    }

    @Test
    void shouldReportHealthOnceASecondOfInputTime() {
        begin(0, describe("a", 0, 1));
        int before = log.all.health.size();
        stream(0, 500);
        long reports = log.all.health.stream()
                .skip(before)
                .filter(h -> h.link().contains("left"))
                .count();
        assertEquals(5 + 1, reports, "one a second, and the change to streaming");
        assertEquals(
                1000, log.newest().sampleRateHz() + 1000 * (log.newest().link().contains("left") ? 0 : 1), 10);
        nowNs += S + 20 * MS;
        core.onClock(nowNs);
        assertTrue(log.all.health.stream().anyMatch(h -> h.state().equals("lost")));
    }
}
