package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.config.Config;
import io.heldmark.link.Link.Binding;
import io.heldmark.link.LinkState;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.protocol.BindingProbe;
import io.heldmark.protocol.ByteStreamDecoder;
import io.heldmark.protocol.Command;
import io.heldmark.protocol.Describe;
import io.heldmark.protocol.GattDecoder;
import io.heldmark.protocol.MessageHandler;
import io.heldmark.protocol.StreamDecoder;
import io.heldmark.protocol.TextDecoder;
import io.heldmark.testing.MemoryLink;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** Time is a number here: the timer's turns come 5 ms apart, as in the station. */
class LinkSupervisorTest {
    private static final long MS = 1_000_000L;
    private static final int ASKABLE = Describe.CAN_COMMAND;
    private static final int BOTH = Describe.CAN_COMMAND | Describe.CAN_PING;

    private final Counters counters = new Counters();
    private final List<StationEvent> events = new ArrayList<>();
    private InputQueue queue = new InputQueue(100_000, 1);
    private MemoryLink link = new MemoryLink(Binding.BYTES);
    private LinkSupervisor supervisor = make(Map.of());
    private long nowNs;

    private LinkSupervisor make(Map<String, String> settings) {
        return new LinkSupervisor(0, link, queue, counters, Config.resolve(Map.of(), settings), 42);
    }

    private void run(long forMs) {
        for (long endNs = nowNs + forMs * MS; nowNs < endNs; nowNs += 5 * MS) {
            supervisor.turn(nowNs);
        }
    }

    private List<String> sent(StreamDecoder decoder, List<String> into) {
        for (byte[] bytes : link.sent) {
            decoder.accept(bytes, 0, bytes.length);
        }
        link.sent.clear();
        return into;
    }

    /** Decodes what went out as the device would. */
    private List<String> sent(Binding binding) {
        List<String> said = new ArrayList<>();
        MessageHandler handler = new MessageHandler() {
            @Override
            public void onCommand(Command command) {
                said.add("command " + command.opcode());
            }

            @Override
            public void onPing(int pingId) {
                said.add("ping " + pingId);
            }
        };
        return switch (binding) {
            case TEXT -> sent(new TextDecoder(handler), said);
            case GATT -> sent(new GattDecoder(handler), said);
            default -> sent(new ByteStreamDecoder(handler), said);
        };
    }

    private List<StationEvent> events() {
        queue.close();
        InputQueue.Consumer keeper = new InputQueue.Consumer() {
            @Override
            public void onChunk(int n, long a, long r, byte[] bytes, int offset, int length, long lost) {}

            @Override
            public void onEvent(StationEvent event, long receivedNs) {
                events.add(event);
            }

            @Override
            public void onTask(Runnable task) {}
        };
        while (queue.take(keeper)) {
            assertTrue(events.size() < 100_000);
        }
        return events;
    }

    @Test
    void shouldSayNothingWhileTheLinkIsNotUp() {
        run(3000);
        supervisor.onState(LinkState.CONNECTING, nowNs);
        run(3000);
        supervisor.onState(LinkState.FAULT, nowNs);
        run(3000);
        assertEquals(List.of(), link.sent);
    }

    @Test
    void shouldAskForTheDescriptionOnceASecondUntilItComes() {
        supervisor.onState(LinkState.UP, 0);
        run(3500);
        assertEquals(List.of("command 1", "command 1", "command 1", "command 1"), sent(Binding.BYTES));
        supervisor.onKnown(Binding.BYTES, 0, false);
        run(3500);
        assertEquals(List.of(), link.sent, "a device that takes no commands is left alone");
    }

    @Test
    void shouldAskAgainAtOnceAfterAReconnect() {
        supervisor.onState(LinkState.UP, 0);
        supervisor.onKnown(Binding.BYTES, ASKABLE, true);
        run(100);
        supervisor.onState(LinkState.DOWN, nowNs);
        run(100);
        supervisor.onState(LinkState.UP, nowNs);
        run(5);
        assertEquals(List.of("command 1"), sent(Binding.BYTES), "it may be another device");
    }

    @Test
    void shouldProbeBothBindingsWhereTheBindingIsNotKnown() {
        link = new MemoryLink(Binding.AUTO);
        supervisor = make(Map.of());
        supervisor.onState(LinkState.UP, 0);
        run(5);
        byte[] probe = new byte[64];
        assertArrayEquals(Arrays.copyOf(probe, BindingProbe.describe(1, probe, 0)), link.sent.get(0));
    }

    @Test
    void shouldTellADeviceToStartUntilItStreams() {
        supervisor.onState(LinkState.UP, 0);
        supervisor.onKnown(Binding.BYTES, ASKABLE, false);
        run(5000);
        assertEquals(List.of("command 2", "command 2", "command 2"), sent(Binding.BYTES));
        supervisor.onKnown(Binding.BYTES, ASKABLE, true);
        run(5000);
        assertEquals(List.of(), link.sent);
        supervisor.onKnown(Binding.BYTES, ASKABLE, false); // it was stopped, or powered up again
        run(5);
        assertEquals(List.of("command 2"), sent(Binding.BYTES));
    }

    @Test
    void shouldEndWhatAnEarlierLineLeftBehindBeforeACommand() {
        supervisor.onState(LinkState.UP, 0);
        for (Binding binding : List.of(Binding.BYTES, Binding.TEXT, Binding.GATT)) {
            supervisor.onKnown(binding, ASKABLE, false);
            run(2000);
            byte first = link.sent.get(0)[0];
            assertEquals(binding == Binding.BYTES ? 0 : binding == Binding.TEXT ? '\n' : 0x59, first);
            assertEquals(List.of("command 2"), sent(binding));
        }
    }

    @Test
    void shouldPutEveryPingIntoTheQueueBeforeItIsSent() {
        supervisor.onState(LinkState.UP, 0);
        supervisor.onKnown(Binding.BYTES, BOTH, true);
        run(1000);
        List<String> sent = sent(Binding.BYTES);
        List<StationEvent> all = events();
        assertTrue(sent.size() > 15, "pings: " + sent.size());
        assertEquals(2 * sent.size(), all.size());
        for (int i = 0; i < sent.size(); i++) {
            StationEvent.PingSent ping = assertInstanceOf(StationEvent.PingSent.class, all.get(2 * i));
            assertEquals("ping " + ping.pingId(), sent.get(i));
            StationEvent.BytesSent bytes = assertInstanceOf(StationEvent.BytesSent.class, all.get(2 * i + 1));
            assertEquals(ping.atNs(), bytes.atNs());
        }
        assertEquals(sent.size(), counters.get(Counter.PINGS_SENT));
    }

    /** 25 a second for 20 s, then the rate of a known clock; random moments between half and one and a half the mean. */
    @Test
    void shouldPingAtRandomMomentsOftenAtFirstAndRarelyLater() {
        supervisor.onState(LinkState.UP, 0);
        supervisor.onKnown(Binding.BYTES, BOTH, true);
        run(20_000);
        int early = sent(Binding.BYTES).size();
        assertEquals(500, early, 50, "5 ms of a turn make 40 ms some 42.5");
        run(100_000);
        double laterHz = sent(Binding.BYTES).size() / 100.0;
        double wantedHz = Config.defaults().number(Config.PING_RATE_HZ);
        assertEquals(wantedHz, laterHz, 0.1 * wantedHz);
        long shortestNs = Long.MAX_VALUE;
        long longestNs = 0;
        long beforeNs = -1;
        for (StationEvent event : events()) {
            if (event instanceof StationEvent.PingSent ping && ping.atNs() < 20_000 * MS) {
                if (beforeNs >= 0) {
                    shortestNs = Math.min(shortestNs, ping.atNs() - beforeNs);
                    longestNs = Math.max(longestNs, ping.atNs() - beforeNs);
                }
                beforeNs = ping.atNs();
            }
        }
        assertTrue(shortestNs >= 20 * MS && shortestNs <= 25 * MS, "shortest " + shortestNs);
        assertTrue(longestNs >= 55 * MS && longestNs <= 65 * MS, "longest " + longestNs);
    }

    /** Turned no sooner than it asks for, it sends every ping at the very moment that it drew. */
    @Test
    void shouldSendEveryPingWhenTurnedOnlyWhenItAsksFor() {
        supervisor.onState(LinkState.UP, 0);
        supervisor.onKnown(Binding.BYTES, BOTH, true);
        int turns = 0;
        for (; nowNs < 20_000 * MS; turns++) {
            long nextNs = supervisor.turn(nowNs);
            assertTrue(nextNs >= nowNs + 20 * MS && nextNs <= nowNs + 60 * MS, "next in " + (nextNs - nowNs));
            nowNs = nextNs;
        }
        List<String> sent = sent(Binding.BYTES);
        assertEquals(500, sent.size(), 25, "25 a second for 20 s");
        assertEquals(sent.size(), turns);
        supervisor.onKnown(Binding.BYTES, BOTH, false);
        assertEquals(nowNs + 5 * MS, supervisor.turn(nowNs), "whether it streams again");
        supervisor.onKnown(Binding.BYTES, ASKABLE, true);
        assertEquals(Long.MAX_VALUE, supervisor.turn(nowNs), "nothing is awaited of it");
    }

    @Test
    void shouldSendNoPingsWhereNoneAreWantedOrUnderstood() {
        supervisor = make(Map.of("ping.initialRateHz", "0", "ping.rateHz", "0"));
        supervisor.onState(LinkState.UP, 0);
        supervisor.onKnown(Binding.BYTES, BOTH, true);
        run(3000);
        supervisor = make(Map.of());
        supervisor.onState(LinkState.UP, nowNs);
        supervisor.onKnown(Binding.BYTES, ASKABLE, true);
        run(3000);
        supervisor.onKnown(Binding.AUTO, BOTH, true); // bytes were lost, and the binding is being found again
        run(3000);
        assertEquals(List.of(), link.sent);
    }

    @Test
    void shouldCountPingsThatDoNotFitAndNotSendThem() {
        queue = new InputQueue(1, 1);
        supervisor = make(Map.of());
        queue.offer(new StationEvent.ClockTick(0), 0);
        supervisor.onState(LinkState.UP, 0);
        supervisor.onKnown(Binding.BYTES, BOTH, true);
        run(1000);
        assertEquals(List.of(), link.sent);
        assertEquals(0, counters.get(Counter.PINGS_SENT));
        assertTrue(counters.get(Counter.INPUT_REQUESTS_REFUSED) > 15);
    }

    @Test
    void shouldCountWhatItSaidAndCouldNotNote() {
        queue = new InputQueue(1, 1);
        supervisor = make(Map.of());
        queue.offer(new StationEvent.ClockTick(0), 0);
        supervisor.onState(LinkState.UP, 0);
        run(1500);
        assertEquals(2, link.sent.size(), "the device is asked all the same");
        assertEquals(2, counters.get(Counter.INPUT_REQUESTS_REFUSED));
    }

    @Test
    void shouldNotClaimToHaveSentWhatTheLinkDidNotTake() {
        link.sends = false;
        supervisor.onState(LinkState.UP, 0);
        run(500);
        supervisor.onKnown(Binding.BYTES, BOTH, true);
        run(500);
        assertEquals(0, counters.get(Counter.PINGS_SENT));
        assertTrue(events().stream().noneMatch(e -> e instanceof StationEvent.BytesSent));
    }
}
