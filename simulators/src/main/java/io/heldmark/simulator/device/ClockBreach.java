package io.heldmark.simulator.device;

import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.Nonconformity;

/** Breaks the rules about numbers and ticks on purpose. */
final class ClockBreach {
    private static final int EVERY = 50;
    private static final double JUMP_EVERY_S = 3;
    private static final int JUMP_SAMPLES = 5;
    /** Eighteen minutes of a microsecond clock. */
    private static final long OTHER_COUNTER = 0x4000_0000L;

    private final Nonconformity rule;
    private final long tickRateHz;
    private final double sampleRateHz;

    ClockBreach(CellSpec cell) {
        rule = cell.nonconforming();
        sampleRateHz = cell.sampleRateHz();
        tickRateHz = cell.clock().tickRateHz();
    }

    /** Returns by how much the number of messages grows. */
    int step(long messagesSent) {
        return rule == Nonconformity.SEQUENCE && messagesSent % EVERY == EVERY - 1 ? 2 : 1;
    }

    /** Returns the number with which a stream begins that would go on with this one. */
    int first(int sequence) {
        return rule == Nonconformity.SEQUENCE_RUNS_ON ? 0 : sequence;
    }

    /** Returns by how many ticks a samples message is off. */
    long shift(long messagesSent, double timeS) {
        if (rule == Nonconformity.TICK_FORWARD && messagesSent % EVERY == EVERY - 1) {
            return -tickRateHz / 2;
        }
        if (rule == Nonconformity.TICK_STEPS) {
            return Math.round(Math.floor(timeS / JUMP_EVERY_S) * JUMP_SAMPLES * tickRateHz / sampleRateHz);
        }
        return 0;
    }

    /** Returns the tick that status and pong show for this one. */
    long elsewhere(long tick) {
        return rule == Nonconformity.ONE_CLOCK ? tick ^ OTHER_COUNTER : tick;
    }

    /** Returns the tick rate that describe states. */
    static long statedTickRateHz(CellSpec cell) {
        long rateHz = cell.clock().tickRateHz();
        return cell.nonconforming() == Nonconformity.TICK_RATE ? rateHz + rateHz / 20 : rateHz;
    }

    /** Returns how many samples a message holds. */
    static int samplesPerFrame(CellSpec cell) {
        return cell.nonconforming() == Nonconformity.SAMPLES_SPAN ? 31 : cell.samplesPerFrame();
    }
}
