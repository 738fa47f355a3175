package io.heldmark.importer;

import io.heldmark.model.ContractionFlag;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.Window;
import org.jspecify.annotations.Nullable;

/**
 * The zero of a trace that has none: the rest before each contraction of one channel.
 *
 * <p><b>Rule.</b> (1) The resting level right before the onset, where at least 100 ms lie there without a gap and were
 * steady. (2) Else the mean of the nearest earlier quiet stretch of 200 ms. (3) Else none: the zero as recorded.
 *
 * <p><b>Quiet stretch.</b> {@link QuietBlocks}, without a gap and outside contractions; the newest {@value #KEPT} are
 * remembered. Rest right before the onset is judged alike, over blocks of a quarter of its length.
 *
 * <p><b>Uncertainty.</b> (1) noise sqrt(c / n) of the n samples of up to 200 ms, c of them counting as one; (2) that of
 * {@link QuietBlocks}; (3) unknown, given as 0 and flagged.
 *
 * <p><b>Source.</b> Rest of the last 200 ms: Maffiuletti et al. 2016, Eur J Appl Physiol 116:1091-1116, Fig. 6; the rest
 * is common practice, no published source.
 */
public final class RestBefore {
    /** Where a zero comes from. */
    public enum Origin {
        /** Right before the contraction. */
        NEAR(null),
        /** A quiet stretch longer ago. */
        DISTANT(ContractionFlag.BASELINE_DISTANT),
        /** There was none. */
        NONE(ContractionFlag.NO_BASELINE);

        private final @Nullable ContractionFlag flag;

        Origin(@Nullable ContractionFlag flag) {
            this.flag = flag;
        }

        /** Returns the flag that says so; {@link #NEAR} has none. */
        public ContractionFlag flag() {
            if (flag == null) {
                throw new IllegalStateException("a rest right before is no matter for a flag");
            }
            return flag;
        }
    }

    /**
     * A zero.
     *
     * @param origin where it comes from.
     * @param levelN its level on the trace's own scale, in newtons.
     * @param standardUncertaintyN its standard uncertainty.
     * @param atNs when it was taken.
     */
    public record Base(Origin origin, double levelN, double standardUncertaintyN, long atNs) {}

    private static final long LEAST_NS = 100_000_000L;
    private static final long REST_NS = 200_000_000L;
    private static final int KEPT = 64;

    private final long[] endNs = new long[KEPT];
    private final double[] levelN = new double[KEPT];
    private final double[] levelU = new double[KEPT];
    private long stretches;

    private final QuietBlocks blocks = new QuietBlocks();
    private final QuietBlocks near = new QuietBlocks();
    private int block;
    private int whole;
    private boolean inBlock;
    private long blockStartNs;

    /** Takes a batch of the channel; whether a contraction is under way is known after the detector has seen it. */
    public void onBatch(SampleBatch batch, boolean inContraction) {
        if (inContraction || batch.has(SampleBatch.GAP_BEFORE)) {
            inBlock = false;
            whole = 0;
        }
        if (inContraction) {
            return;
        }
        for (int i = 0; i < batch.count; i++) {
            add(batch.timeNs[i], batch.forceN[i]);
        }
    }

    /**
     * Returns the zero of a finished contraction.
     *
     * @param w its window, on the trace's own scale.
     * @param steady whether the rest right before its onset was seen and steady.
     */
    public Base of(Window w, boolean steady) {
        int onset = w.onsetIndex();
        int from = onset;
        while (from > 0 && !w.gapBefore(from) && w.onsetNs() - w.timeNs(from - 1) <= REST_NS) {
            from--;
        }
        if (steady && from < onset && w.onsetNs() - w.timeNs(from) >= LEAST_NS && isQuiet(w, from, onset)) {
            double independent = Math.max(1, (onset - from) / w.restingCorrelationSamples());
            return new Base(Origin.NEAR, w.restingLevelN(), w.restingNoiseN() / Math.sqrt(independent), w.onsetNs());
        }
        for (long s = stretches - 1; s >= Math.max(0, stretches - KEPT); s--) {
            int at = (int) (s % KEPT);
            if (endNs[at] <= w.onsetNs()) {
                return new Base(Origin.DISTANT, levelN[at], levelU[at], endNs[at]);
            }
        }
        return new Base(Origin.NONE, 0, 0, 0);
    }

    private boolean isQuiet(Window w, int from, int to) {
        near.clear(w.forceN(from));
        for (int i = from; i < to; i++) {
            near.add(QuietBlocks.BLOCKS * (i - from) / (to - from), w.forceN(i));
        }
        return near.isQuiet();
    }

    private void add(long timeNs, double forceN) {
        if (!inBlock) {
            inBlock = true;
            blockStartNs = timeNs;
            block = 0;
            blocks.clear(forceN);
        }
        if (timeNs - blockStartNs >= QuietBlocks.BLOCK_NS) {
            blockStartNs += QuietBlocks.BLOCK_NS;
            whole = Math.min(QuietBlocks.BLOCKS, whole + 1);
            if (whole == QuietBlocks.BLOCKS && blocks.isQuiet()) {
                remember(timeNs);
            }
            block = (block + 1) % QuietBlocks.BLOCKS;
            blocks.clearBlock(block);
        }
        blocks.add(block, forceN);
    }

    private void remember(long nowNs) {
        int at = (int) (stretches++ % KEPT);
        endNs[at] = nowNs;
        levelN[at] = blocks.meanN();
        levelU[at] = blocks.standardUncertaintyN();
    }
}
