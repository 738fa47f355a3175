package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.metric.FlagsPage;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Contraction;
import io.heldmark.model.Contraction.Revision;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.Effort;
import io.heldmark.model.EffortFlag;
import io.heldmark.model.TraceFilter;
import io.heldmark.simulator.truth.ContractionTruth;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How often each quality flag is raised on sound efforts of the bundled scenarios, under seeds of their own, and how often on
 * efforts that the simulator made unsound on purpose. The command that prints the table: {@code mvn -pl daemon/core -am test
 * -Dtest=QualityEvidenceTest -Dsurefire.failIfNoSpecifiedTests=false}.
 */
class QualityEvidenceTest {
    private static final Path SCENARIOS =
            Path.of(System.getProperty("heldmark.root", "../.."), "simulators", "scenarios");

    /** Facts of the set-up, and of a rise that begins slowly: true of a sound effort as well. */
    private static final Set<String> FACTS = Set.of(
            ContractionFlag.CONDITIONS_UNKNOWN.id(),
            ContractionFlag.RATE_TOO_LOW.id(),
            ContractionFlag.SLOW_RISE.id(),
            ContractionFlag.ONSET_UNCERTAIN.id(),
            EffortFlag.CELLS_NOT_COMPARED.id());

    /** Flags by how many efforts, of so many. */
    private static final class Tally {
        final Map<String, Integer> raised = new TreeMap<>();
        int efforts;

        void count(List<String> flags) {
            efforts++;
            flags.forEach(f -> raised.merge(f, 1, Integer::sum));
        }

        double percent(String flag) {
            return 100.0 * raised.getOrDefault(flag, 0) / Math.max(1, efforts);
        }

        @Override
        public String toString() {
            StringBuilder text = new StringBuilder(efforts + " efforts:");
            raised.forEach((flag, n) -> text.append(String.format(Locale.ROOT, " %s %.1f %%", flag, percent(flag))));
            return text.toString();
        }
    }

    private static final class Found implements StationListener {
        List<ChannelInfo> channels = List.of();
        final List<Contraction> finals = new ArrayList<>();
        final List<Effort> efforts = new ArrayList<>();

        @Override
        public void onContraction(Contraction contraction) {
            if (contraction.revision() == Revision.FINAL) {
                finals.add(contraction);
            }
        }

        @Override
        public void onChannels(List<ChannelInfo> all, List<TraceFilter> traceFilters, long atNs) {
            channels = all;
        }

        @Override
        public void onEffort(Effort effort) {
            efforts.add(effort);
        }
    }

    @TempDir
    Path directory;

    private final Map<String, Tally> byTruth = new TreeMap<>();
    private final Tally pairs = new Tally();

    private void run(String scenario, int seed, double untilS) throws IOException {
        String yaml = Files.readString(SCENARIOS.resolve(scenario + ".yaml"));
        Path file = directory.resolve(scenario + seed + ".yaml");
        Files.writeString(file, yaml.replaceFirst("(?m)^seed: .*$", "seed: " + seed));
        Found found = new Found();
        VirtualSession session = new VirtualSession(file, found, null);
        session.run(untilS);
        for (ChannelInfo channel : found.channels) {
            int cell = Integer.parseInt(channel.link().replaceAll("\\D", ""));
            for (ContractionTruth truth : session.cells.get(cell).truth().contractions(channel.deviceChannel())) {
                Contraction c = match(truth, channel.channel(), found.finals);
                if (c != null) {
                    String kind = truth.flags().isEmpty() ? "sound" : String.join("+", truth.flags());
                    byTruth.computeIfAbsent(kind, k -> new Tally()).count(c.flags());
                    byTruth.computeIfAbsent("  " + scenario + ", " + kind, k -> new Tally())
                            .count(c.flags());
                }
            }
        }
        found.efforts.forEach(e -> pairs.count(e.flags()));
    }

    private static Contraction match(ContractionTruth t, int channel, List<Contraction> finals) {
        for (Contraction c : finals) {
            double from = Math.max(t.onsetS(), c.onsetNs() * 1e-9);
            double to = Math.min(t.offsetS(), c.offsetNs() * 1e-9);
            double union = Math.max(t.offsetS(), c.offsetNs() * 1e-9) - Math.min(t.onsetS(), c.onsetNs() * 1e-9);
            if (c.channel() == channel && t.complete() && to - from >= 0.5 * union) {
                return c;
            }
        }
        return null;
    }

    @Test
    void shouldSeldomRaiseAFlagOfASoundEffort() throws IOException {
        for (int seed = 101; seed <= 102; seed++) {
            run("demo", seed, 240);
            run("explosive", seed, 180);
            run("ramps", seed, 240);
            run("eccentric-lower", seed, 150);
        }
        byTruth.forEach((kind, tally) -> System.out.println(kind + ": " + tally));
        System.out.println("pairs: " + pairs);
        Tally sound = byTruth.get("sound");
        assertTrue(sound.efforts >= 300, sound.toString());
        for (String flag : sound.raised.keySet()) {
            assertTrue(FACTS.contains(flag) || sound.percent(flag) <= 5, flag + ": " + sound);
        }
        String page = FlagsPage.markdown();
        assertSaid(page, "sound, all", sound, "trial-spread", "%.1f");
        assertSaid(page, "sound, all", sound, "conditions-unknown", "%.0f");
        assertSaid(page, "sound, all", sound, "onset-uncertain", "%.0f");
        assertSaid(page, "sound, all", sound, "slow-rise", "%.1f");
        assertSaid(page, "with pre-tension", byTruth.get("pre-tension"), "pre-tension", "%.0f");
        assertSaid(page, "with pre-tension", byTruth.get("pre-tension"), "resting-level-off-zero", "%.0f");
        assertSaid(page, "with a countermovement", byTruth.get("countermovement"), "countermovement", "%.0f");
        assertSaid(page, "two efforts in one", byTruth.get("double-effort"), "double-effort", "%.0f");
        assertTrue(byTruth.get("pre-tension").percent("pre-tension") >= 75, "pre-tension is seen");
        assertTrue(byTruth.get("countermovement").percent("countermovement") >= 75, "a dip is seen");
        assertTrue(byTruth.get("double-effort").percent("double-effort") >= 75, "a second effort is seen");
    }

    /** Holds a row of the page to what was counted. */
    private static void assertSaid(String page, String row, Tally tally, String flag, String format) {
        int at = page.indexOf("| " + row + " | " + tally.efforts + " |");
        assertTrue(at >= 0, row + ": " + tally);
        String line = page.substring(at, page.indexOf('\n', at));
        String said = "`" + flag + "` " + String.format(Locale.ROOT, format, tally.percent(flag));
        assertTrue(line.contains(said), said + " is not in: " + line);
    }
}
