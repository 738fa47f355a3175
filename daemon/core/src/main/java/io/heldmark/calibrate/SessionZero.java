package io.heldmark.calibrate;

import io.heldmark.model.SampleBatch;
import io.heldmark.model.ZeroState;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Takes the session zero of one channel: the mean of a quiet second after a request, or a refusal that says why.
 *
 * <p><b>Method.</b> The trace is cut into blocks of 0.1 s of sample time. Whenever the last {@code windowS} of blocks
 * are whole (no gap of more than half a block, no overload, no fault, no contraction), {@link QuietStretch} judges them. The first quiet stretch
 * is the zero. If none comes within {@code waitS} the request is refused and the zero before stays in force.
 *
 * <p><b>Units.</b> Levels in newtons (or counts) relative to the calibration's own zero; times in nanoseconds of station
 * time. A batch carries forces relative to the session zero in force, which is handed in with it.
 *
 * <p><b>Determinism.</b> Driven by sample times and {@link #onClock} alone. Nothing is allocated per sample.
 *
 * <p><b>Threading.</b> One thread.
 */
public final class SessionZero {
    /** Takes every change of state, on the calling thread. */
    @FunctionalInterface
    public interface Listener {
        /**
         * Called when a zero is being taken, was taken or was refused.
         *
         * @param state the new state; {@code zeroN} is the zero in force from now on.
         */
        void onZero(ZeroState state);
    }

    private static final long BLOCK_NS = 100_000_000L;
    /** A lost message or two: half of a block is left at least, and its mean is that of the rest. */
    private static final long SHORT_GAP_NS = BLOCK_NS / 2;

    private static final int WASTE = SampleBatch.OVERLOAD | SampleBatch.ADC_FAULT | SampleBatch.CLOCK_RESTARTED;

    private final int channel;
    private final SessionZeroConfig config;
    private final QuietStretch stretch;
    private final String unit;
    private final Listener listener;

    private ZeroState state;
    private boolean taking;
    private boolean patient;
    private long requestedNs;
    private long blockStartNs;
    private boolean inBlock;
    private long newestNs = Long.MIN_VALUE / 2;
    private String obstacle = "no samples arrived";

    /**
     * Makes a session zero in state {@code none}.
     *
     * @param channel station-wide channel number.
     * @param config limits.
     * @param unit unit of the channel, for reasons.
     * @param resolution size of one count in that unit.
     * @param listener takes changes of state.
     */
    public SessionZero(int channel, SessionZeroConfig config, String unit, double resolution, Listener listener) {
        this.channel = channel;
        this.config = config;
        this.unit = unit;
        this.listener = listener;
        int blocks = (int) Math.round(config.windowS() * 1e9 / BLOCK_NS);
        stretch = new QuietStretch(blocks, BLOCK_NS, resolution);
        state = new ZeroState(channel, "none", 0, 0, 0, null);
    }

    /** Asks for a zero now; refused if no quiet stretch comes within the configured wait. */
    public void request(long atNs) {
        begin(atNs, false);
    }

    /** Asks for a zero as soon as the trace is quiet, however long that takes. */
    public void requestWhenQuiet(long atNs) {
        begin(atNs, true);
    }

    /** Returns the present state. */
    public ZeroState state() {
        return state;
    }

    /**
     * Takes a batch of this channel.
     *
     * @param batch samples relative to the session zero in force.
     * @param sessionZeroN that zero.
     * @param contractionOpen whether a contraction is under way on this channel.
     */
    public void onBatch(SampleBatch batch, double sessionZeroN, boolean contractionOpen) {
        if (!taking) {
            return;
        }
        boolean longGap =
                batch.has(SampleBatch.GAP_BEFORE) && batch.count > 0 && batch.timeNs[0] - newestNs > SHORT_GAP_NS;
        if (contractionOpen || longGap || (batch.flags & WASTE) != 0) {
            discard(contractionOpen, batch);
        }
        if (!contractionOpen && !batch.has(SampleBatch.OVERLOAD) && !batch.has(SampleBatch.ADC_FAULT)) {
            for (int i = 0; i < batch.count && taking; i++) {
                onSample(batch.timeNs[i], batch.forceN[i] + sessionZeroN);
            }
        }
        if (batch.count > 0) {
            newestNs = batch.timeNs[batch.count - 1];
            onClock(newestNs);
        }
    }

    /** Lets time pass without samples: refuses a request whose wait is over. */
    public void onClock(long nowNs) {
        if (taking && !patient && nowNs - requestedNs > config.waitS() * 1e9) {
            taking = false;
            change(new ZeroState(
                    channel, "refused", nowNs, state.zeroN(), state.standardUncertaintyN(), refusal(config.waitS())));
        }
    }

    private String refusal(double waitS) {
        return String.format(Locale.ROOT, "no quiet second within %.0f s: %s", waitS, obstacle);
    }

    private void begin(long atNs, boolean whenQuiet) {
        taking = true;
        patient = whenQuiet;
        requestedNs = atNs;
        inBlock = false;
        stretch.clear();
        obstacle = "no samples arrived";
        change(new ZeroState(channel, "taking", atNs, state.zeroN(), state.standardUncertaintyN(), null));
    }

    private void discard(boolean contractionOpen, SampleBatch batch) {
        stretch.clear();
        inBlock = false;
        if (contractionOpen) {
            obstacle = "a contraction is under way";
        } else if (batch.has(SampleBatch.OVERLOAD)) {
            obstacle = "the converter is at the end of its range";
        } else if (batch.has(SampleBatch.ADC_FAULT)) {
            obstacle = "the converter reports a fault";
        } else {
            obstacle = "samples are missing";
        }
    }

    private void onSample(long timeNs, double levelN) {
        if (timeNs < requestedNs) {
            return;
        }
        if (!inBlock) {
            inBlock = true;
            blockStartNs = timeNs;
        }
        if (timeNs - blockStartNs >= BLOCK_NS) {
            blockStartNs += BLOCK_NS;
            stretch.endBlock();
            if (stretch.whole()) {
                judge(timeNs);
            }
        }
        stretch.add(levelN);
    }

    private void judge(long atNs) {
        @Nullable String reason = stretch.reasonNotQuiet(config, unit);
        if (reason != null) {
            obstacle = reason;
            return;
        }
        taking = false;
        change(new ZeroState(channel, "taken", atNs, stretch.meanN(), stretch.standardUncertaintyN(), null));
    }

    private void change(ZeroState next) {
        state = next;
        listener.onZero(next);
    }
}
