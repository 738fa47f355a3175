package io.heldmark.pipeline;

import io.heldmark.model.LinkHealth;
import io.heldmark.simulator.truth.CellTruth;
import io.heldmark.simulator.truth.ClockTruth;
import io.heldmark.simulator.truth.DamageTruth;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * The account of one cell's samples and messages: what the simulator did against what the station counted.
 *
 * <p><b>What no station can count.</b> Where the tick counter jumps or the device starts anew, neither tick nor sequence says
 * what is missing right there. Messages that were lost without a whole one between them and such a moment are therefore not
 * expected in the station's count of lost samples; they are told as a gap of unknown length.
 */
final class FaultAccount {
    /** A sequence number belongs to a moment when the message lies this near to it, in seconds. */
    private static final double NEAR_S = 5;

    private final CellTruth truth;
    private final LinkHealth health;
    private final long beforeDescribe;
    private final List<String> misses = new ArrayList<>();

    private FaultAccount(CellTruth truth, LinkHealth health, long beforeDescribe) {
        this.truth = truth;
        this.health = health;
        this.beforeDescribe = beforeDescribe;
    }

    /**
     * Compares, and returns what is not as it must be.
     *
     * @param truth what was done.
     * @param health what the station counted at the end.
     * @param beforeDescribe samples of this link that came before the device had described itself.
     */
    static List<String> misses(CellTruth truth, LinkHealth health, long beforeDescribe) {
        FaultAccount account = new FaultAccount(truth, health, beforeDescribe);
        account.compare();
        return account.misses;
    }

    private void compare() {
        long damaged =
                lostMessages().stream().mapToLong(DamageTruth::lostSamples).sum();
        long unsure = unsure();
        long onTheWay = onTheWay();
        within("samples", truth.samplesTaken() - damaged - beforeDescribe, health.samples(), onTheWay, unsure);
        long expected = damaged + lost("device-loss") + beforeDescribe - uncountable();
        within("lost samples", expected, health.lostSamples(), onTheWay + unsure, onTheWay);
        within("duplicates", count("duplicate"), health.duplicates(), 1, 0);
        // One that was held back when its link broke, or waits at the end, is not seen late.
        long late = truth.damage().stream()
                .filter(d -> d.kind().equals("reorder") && d.lostSamples() > 0)
                .count();
        within("reordered", late, health.reordered(), 3, 0);
        long spoilt = count("corruption") + count("garbage");
        // Two damaged messages in a row can fail as one; one that was cut in two by a changed byte can fail twice.
        within("failed checks", spoilt, health.crcFailures(), spoilt / 4, spoilt);
        within("reconnects", countWindows("disconnect"), health.reconnects(), 0, 0);
        long clocks = truth.clock().segments().size() - 1L;
        within("clock restarts", clocks, health.clockRestarts(), 0, 2);
        long garbage = truth.damage().stream()
                .filter(d -> d.kind().equals("garbage"))
                .mapToLong(DamageTruth::bytes)
                .sum();
        if (health.skippedBytes() < garbage) {
            misses.add(name("skipped bytes") + " at least " + garbage + " expected, " + health.skippedBytes());
        }
    }

    private void within(String what, long expected, long actual, long below, long above) {
        if (actual < expected - below || actual > expected + above) {
            misses.add(name(what) + " " + expected + " expected, " + actual + " counted");
        }
    }

    private String name(String what) {
        return "cell " + truth.cell() + ": " + what;
    }

    private List<DamageTruth> lostMessages() {
        return truth.damage().stream()
                .filter(d -> d.messages() > 0 && d.lostSamples() > 0)
                .toList();
    }

    private long lost(String kind) {
        return truth.damage().stream()
                .filter(d -> d.kind().equals(kind))
                .mapToLong(DamageTruth::lostSamples)
                .sum();
    }

    /** Messages of a kind that were struck; what a message without its end took with it has no bytes of its own. */
    private long count(String kind) {
        boolean byBytes = kind.equals("corruption");
        return truth.damage().stream()
                .filter(d -> d.kind().equals(kind) && d.messages() > 0 && (!byBytes || d.bytes() > 0))
                .count();
    }

    /** Samples that may be on the way when the session is cut off: two messages, and what a stall holds back just then. */
    private long onTheWay() {
        double heldS = truth.damage().stream()
                .filter(d -> d.kind().equals("burst-delay") && d.fromS() < truth.untilS() && d.toS() >= truth.untilS())
                .mapToDouble(d -> truth.untilS() - d.fromS())
                .sum();
        return 20 + Math.round(heldS * truth.sampleRateHz());
    }

    /** Samples of messages that a message without its end took with it, unless an answer to a ping came between. */
    private long unsure() {
        return truth.damage().stream()
                .filter(d -> d.kind().equals("corruption") && d.bytes() == 0)
                .mapToLong(DamageTruth::lostSamples)
                .sum();
    }

    private long countWindows(String kind) {
        return truth.damage().stream()
                .filter(d -> d.kind().equals(kind) && d.messages() == 0)
                .count();
    }

    private long uncountable() {
        Set<DamageTruth> found = new HashSet<>();
        for (ClockTruth.Segment segment : truth.clock().segments()) {
            if (segment.fromS() > 0) {
                addAround(segment, found);
            }
        }
        return found.stream().mapToLong(DamageTruth::lostSamples).sum();
    }

    private void addAround(ClockTruth.Segment segment, Set<DamageTruth> found) {
        String kind = segment.reason().equals("step") ? "clock-step" : "reboot";
        DamageTruth event = truth.damage().stream()
                .filter(d -> d.kind().equals(kind) && Math.abs(d.toS() - segment.fromS()) < 1e-6)
                .findFirst()
                .orElseThrow();
        run(event.sequence() - 1, -1, event.fromS(), found);
        run(kind.equals("reboot") ? 0 : event.sequence(), 1, event.toS(), found);
    }

    private void run(int firstSequence, int step, double nearS, Set<DamageTruth> found) {
        for (int sequence = firstSequence; add(sequence & 0xFFFF, nearS, step, found); sequence += step) {
            // Goes on while each next message was lost as well.
        }
    }

    private boolean add(int sequence, double nearS, int step, Set<DamageTruth> found) {
        boolean any = false;
        for (DamageTruth d : lostMessages()) {
            boolean side = step > 0 ? d.fromS() >= nearS - 1e-3 : d.fromS() < nearS;
            if (d.sequence() == sequence && side && Math.abs(d.fromS() - nearS) < NEAR_S) {
                found.add(d);
                any = true;
            }
        }
        return any;
    }
}
