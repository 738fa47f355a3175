package io.heldmark.conform;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.heldmark.link.Link.Binding;
import io.heldmark.simulator.scenario.Nonconformity;
import io.heldmark.simulator.scenario.Scenario;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Virtual cells that keep every rule, and cells that break exactly one. */
class ConformanceTest {
    private static final Options OPTIONS = new Options(8, 0.1, 115_200);
    private static final Set<Nonconformity> BYTE_STREAM_ONLY = EnumSet.of(Nonconformity.OPENING);
    private static final Set<Nonconformity> TEXT_ONLY = EnumSet.of(Nonconformity.TEXT_CHECKS);
    private static final Set<Nonconformity> NOT_GATT = EnumSet.of(Nonconformity.CHECK, Nonconformity.LIMIT);
    private static final Set<Nonconformity> NOT_TEXT = EnumSet.of(Nonconformity.SAMPLES_SPAN);

    private static Stream<String> breaches() {
        return Arrays.stream(Nonconformity.values())
                .filter(rule -> rule != Nonconformity.NONE)
                .flatMap(rule -> bindings(rule).map(binding -> id(rule) + " " + binding));
    }

    private static Stream<String> bindings(Nonconformity rule) {
        return Stream.of("bytes", "text", "gatt")
                .filter(b -> !BYTE_STREAM_ONLY.contains(rule) || b.equals("bytes"))
                .filter(b -> !TEXT_ONLY.contains(rule) || b.equals("text"))
                .filter(b -> !NOT_GATT.contains(rule) || !b.equals("gatt"))
                .filter(b -> !NOT_TEXT.contains(rule) || !b.equals("text"));
    }

    private static String id(Nonconformity rule) {
        return rule.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    @ParameterizedTest
    @MethodSource("breaches")
    void shouldFailOnExactlyTheRuleThatIsBroken(String breach) {
        int space = breach.indexOf(' ');
        String rule = breach.substring(0, space);
        String binding = breach.substring(space + 1);
        boolean commands = !rule.equals("describe-repeat");
        Report report = VirtualRun.of(
                scenario(binding, commands, rule), Binding.valueOf(binding.toUpperCase(Locale.ROOT)), OPTIONS);
        assertEquals(Set.of(rule), broken(report), () -> text(report));
        assertFalse(report.conforms());
    }

    @ParameterizedTest
    @EnumSource(
            value = Binding.class,
            names = {"BYTES", "TEXT", "GATT"})
    void shouldPassACellThatTakesCommands(Binding binding) {
        String name = binding.name().toLowerCase(Locale.ROOT);
        Report report = VirtualRun.of(scenario(name, true, "none"), binding, OPTIONS);
        assertEquals(Set.of(), broken(report), () -> text(report));
        assertTrue(report.conforms());
        Set<String> unseen = new TreeSet<>(Set.of("describe-repeat"));
        if (binding != Binding.TEXT) {
            unseen.add("text-checks");
        }
        if (binding != Binding.BYTES) {
            unseen.add("opening");
        }
        if (binding == Binding.GATT) {
            unseen.addAll(Set.of("check", "limit"));
        }
        assertEquals(unseen, with(report, Outcome.NOT_SEEN), () -> text(report));
        for (RuleResult result : report.results()) {
            boolean counts = result.outcome() == Outcome.PASS;
            assertEquals(counts, result.seen() > 0, result.rule().id());
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"bytes", "text"})
    void shouldFindTheBindingByItself(String binding) {
        Report report = VirtualRun.of(scenario(binding, true, "none"), Binding.AUTO, OPTIONS);
        assertEquals(Set.of(), broken(report), () -> text(report));
        assertEquals(binding, report.binding());
    }

    @Test
    void shouldPassTheLeastThatConforms() {
        Scenario least = Scenario.bundled("text-sender");
        Report report = VirtualRun.of(least, Binding.AUTO, OPTIONS);
        assertEquals(Set.of(), broken(report), () -> text(report));
        assertTrue(with(report, Outcome.PASS)
                .containsAll(List.of("describe-repeat", "tick-rate", "sequence", "text-checks")));
        assertTrue(with(report, Outcome.NOT_SEEN).containsAll(List.of("check", "start", "pong", "recovery")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"demo", "explosive", "eight-by-2k", "eccentric-lower", "quiet"})
    void shouldPassTheBundledCells(String name) {
        // Faster than 115,200 baud, some of them: nothing is said of a line here.
        Report report = VirtualRun.of(Scenario.bundled(name), Binding.AUTO, new Options(8, 0.1, 0));
        assertEquals(Set.of(), broken(report), () -> text(report));
        assertTrue(report.conforms());
    }

    @Test
    void shouldAdviseAgainstSlowTicksAndFullLines() {
        String yaml = yaml("bytes", true, "none").replace("clock: {offsetPpm: 30}", "clock: {tickRateHz: 5000}");
        Report report = VirtualRun.of(Scenario.parse(yaml, "t"), Binding.BYTES, new Options(8, 0.1, 9600));
        assertEquals(Set.of("tick-resolution", "headroom"), with(report, Outcome.ADVICE), () -> text(report));
        assertTrue(report.conforms());
    }

    @Test
    void shouldSayThatNothingCame() {
        Conformance run = new Conformance(Binding.AUTO, OPTIONS, (bytes, offset, length) -> true);
        run.onUp(0);
        for (long now = 0; !run.isOver(); now += 100_000_000L) {
            run.onTime(now);
        }
        assertEquals("nothing came", run.report().broke());
        assertFalse(run.report().conforms());
        assertEquals(Set.of(), broken(run.report()));
    }

    /** Whatever comes, nothing is thrown and the run ends: bytes at random, and some that look like messages. */
    @ParameterizedTest
    @EnumSource(
            value = Binding.class,
            names = {"AUTO", "BYTES", "TEXT", "GATT"})
    void shouldComeToAnEndWhateverIsSent(Binding binding) {
        SplittableRandom random = new SplittableRandom(23);
        Conformance run = new Conformance(binding, OPTIONS, (bytes, offset, length) -> random.nextInt(10) > 0);
        String some = "SDCKEHROPQ0123456789,=.-*id=tickhz=1000ratemhz=80000bits=24 #";
        run.onUp(0);
        long now = 0;
        while (!run.isOver() && now < 200_000_000_000L) {
            now += 10_000_000L;
            byte[] bytes = new byte[1 + random.nextInt(40)];
            random.nextBytes(bytes);
            for (int i = 0; i < bytes.length && now % 3 == 0; i++) {
                bytes[i] = (byte) (random.nextInt(12) == 0 ? '\n' : some.charAt(random.nextInt(some.length())));
            }
            bytes[0] = (byte) (binding == Binding.GATT ? 0x57 + random.nextInt(4) : bytes[0]);
            run.onBytes(bytes, 0, bytes.length, now);
            run.onTime(now);
        }
        assertTrue(run.isOver());
        assertFalse(run.report().conforms());
    }

    @Test
    void shouldEndWhereTheLinkBreaks() {
        Conformance run = new Conformance(Binding.BYTES, OPTIONS, (bytes, offset, length) -> true);
        run.onUp(0);
        run.onDown("gone", 5);
        assertTrue(run.isOver());
        assertEquals("the link broke: gone", run.report().broke());
    }

    @Test
    void shouldShowTheBytesThatBreakARule() {
        Report report = VirtualRun.of(scenario("bytes", true, "types"), Binding.BYTES, OPTIONS);
        RuleResult types = report.results().stream()
                .filter(result -> result.rule() == Rule.TYPES)
                .findFirst()
                .orElseThrow();
        // Type 0x06, payload 01 02. CRC-16/CCITT-FALSE of 06 01 02 by
        // python3 -c "import binascii; print(hex(binascii.crc_hqx(bytes([6,1,2]), 0xFFFF)))": 0x6d4f, low byte first.
        assertEquals("06 06 01 02 4F 6D 00", types.evidence().get(0).hex());
    }

    @Test
    void shouldHaveABreachForEveryRule() {
        Map<String, Boolean> rules = new TreeMap<>();
        for (Rule rule : Rule.values()) {
            rules.put(rule.id(), Arrays.stream(Nonconformity.values()).anyMatch(n -> id(n).equals(rule.id())));
        }
        Set<String> without =
                rules.keySet().stream().filter(id -> !rules.get(id)).collect(Collectors.toCollection(TreeSet::new));
        assertEquals(Set.of("tick-resolution", "headroom"), without, "advice has its own test");
    }

    private static Scenario scenario(String binding, boolean commands, String rule) {
        return Scenario.parse(yaml(binding, commands, rule), rule + "-" + binding);
    }

    /** A cell of 20 bits: counts beyond its range still fit 24. */
    private static String yaml(String binding, boolean commands, String rule) {
        boolean rates = commands
                && !Set.of("samples-prompt", "sample-rate", "samples-span").contains(rule);
        boolean text = binding.equals("text");
        return String.join(
                "\n",
                "schema: heldmark.scenario/1",
                "name: check",
                "invented: true",
                "description: A cell for checks.",
                "seed: 5",
                "limbs: [{name: left, maxForceN: 300}]",
                "cells:",
                "  - name: board",
                "    binding: " + binding,
                "    sampleRateHz: 250",
                "    samplesPerFrame: " + (text ? 1 : 4),
                "    supportedRatesHz: " + (rates ? "[250, 125]" : "[]"),
                "    answersCommands: " + commands,
                "    nonconforming: " + rule,
                "    channels: [{limb: left, calibration: {}}]",
                "    adc: {bits: 20}",
                "    clock: {offsetPpm: 30}",
                "    link: {kind: " + (binding.equals("gatt") ? "interval, intervalS: 0.015}" : "direct}"));
    }

    private static Set<String> broken(Report report) {
        return with(report, Outcome.FAIL);
    }

    private static Set<String> with(Report report, Outcome outcome) {
        return report.results().stream()
                .filter(result -> result.outcome() == outcome)
                .map(result -> result.rule().id())
                .collect(Collectors.toCollection(TreeSet::new));
    }

    private static String text(Report report) {
        return report.broke() + "\n"
                + report.results().stream()
                        .map(r -> r.rule().id() + " " + r.outcome().words() + " " + r.seen() + " " + r.text() + " "
                                + r.evidence())
                        .collect(Collectors.joining("\n"));
    }
}
