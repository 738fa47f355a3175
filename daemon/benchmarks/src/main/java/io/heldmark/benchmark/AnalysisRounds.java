package io.heldmark.benchmark;

import io.heldmark.config.Config;
import io.heldmark.model.Contraction;
import io.heldmark.model.Effort;
import io.heldmark.model.SampleBatch;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TrialConditions;
import io.heldmark.pipeline.AnalysisListener;
import io.heldmark.pipeline.AnalysisStart;
import io.heldmark.pipeline.RecordingAnalysis;
import io.heldmark.record.RecordingException;
import java.lang.management.ManagementFactory;
import java.nio.file.Path;
import java.util.List;

/**
 * Analyses a recording again and again in one process and prints for each round the CPU time of the thread that does it,
 * which other processes disturb less than the time on the wall.
 *
 * <pre>java -cp "daemon/benchmarks/target/heldmark-benchmarks.jar:daemon/benchmarks/target/lib/*" io.heldmark.benchmark.AnalysisRounds FILE ROUNDS</pre>
 */
public final class AnalysisRounds {
    private AnalysisRounds() {}

    /** Prints one line a round: samples, CPU seconds. */
    public static void main(String[] args) {
        int rounds = Integer.parseInt(args[1]);
        for (int round = 0; round < rounds; round++) {
            long before = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
            long samples = samples(Path.of(args[0]));
            long after = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
            System.out.println(samples + " " + (after - before) / 1e9);
        }
    }

    /** Analyses a recording and returns how many samples it held. */
    static long samples(Path file) {
        Tally tally = new Tally();
        try {
            RecordingAnalysis.run(
                    file, Config.defaults(), TrialConditions.always(TestConditions.UNKNOWN), List.of(), tally);
        } catch (RecordingException e) {
            throw new IllegalStateException(e.getMessage(), e);
        }
        return tally.samples;
    }

    private static final class Tally implements AnalysisListener {
        private long samples;

        @Override
        public void onStart(AnalysisStart start) {}

        @Override
        public void onEnd(boolean complete, List<String> notes) {}

        @Override
        public void onMeasured(SampleBatch measured) {
            samples += measured.count;
        }

        @Override
        public void onContraction(Contraction contraction) {}

        @Override
        public void onEffort(Effort effort) {}
    }
}
