package io.heldmark.benchmark;

import io.heldmark.simulator.scenario.Scenario;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;

/**
 * A recording on disk to its contractions: 300 s of two simulated cells at 1 kHz, with an effort of both limbs every six
 * seconds or with none at all. The unit is samples.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
public class AnalysisBenchmark {
    private static final int SECONDS = 300;
    private static final int SAMPLES = 2 * 1000 * SECONDS;

    /** The scenario that is recorded. */
    @Param({"demo", "quiet"})
    public String scenario = "demo";

    private Path folder = Path.of("");

    /** Records once. */
    @Setup
    public void record() throws IOException {
        folder = Files.createTempDirectory("heldmark-benchmark");
        SeasonFile.write(file(), SECONDS, Scenario.bundled(scenario));
    }

    private Path file() {
        return folder.resolve("recording.pcapng");
    }

    /** Analyses the whole recording. */
    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public long analyse() {
        return AnalysisRounds.samples(file());
    }

    /** Removes the recording. */
    @TearDown
    public void remove() throws IOException {
        Files.delete(file());
        Files.delete(folder);
    }
}
