package io.heldmark.simulator.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ScenarioErrorsTest {
    private static final String GOOD = """
            schema: heldmark.scenario/1
            name: test
            invented: true
            description: an invented person
            limbs:
              - {name: left, maxForceN: 400}
            efforts:
              - atS: 4
                holdS: [2, 3]
            cells:
              - name: left
                samplesPerFrame: 10
                adc: {bits: 24}
                link: {kind: direct}
                channels:
                  - {limb: left}
            """;

    @Test
    void shouldTakeTheGoodOne() {
        Scenario scenario = Scenario.parse(GOOD, "f");
        assertEquals(1, scenario.seed());
        assertEquals(24, scenario.cells().get(0).adc().bits());
        assertEquals(new Range(2, 3), scenario.efforts().get(0).holdS());
        assertEquals(new Range(100, 100), scenario.efforts().get(0).percentOfMax());
    }

    /** Each row changes one place of the good one; the message names file, line, key, value and what is allowed. */
    @ParameterizedTest
    @CsvSource(delimiter = '|', quoteCharacter = '"', textBlock = """
            bits: 24            | bits: 40              | f:13: cells[0].adc.bits: 40 is not allowed; allowed: a whole number 10 to 32
            bits: 24            | bits: 12.5            | f:13: cells[0].adc.bits: 12.5 is not allowed; allowed: a whole number 10 to 32
            bits: 24            | bits: many            | "f:13: cells[0].adc.bits: ""many"" is not allowed; allowed: a whole number 10 to 32"
            bits: 24            | bitz: 24              | f:13: cells[0].adc.bitz: unknown key; allowed here: bits, gain,
            kind: direct        | kind: magic           | "f:14: cells[0].link.kind: ""magic"" is not allowed; allowed: direct, interval, serial"
            maxForceN: 400      | maxForceN: 0.2        | f:6: limbs[0].maxForceN: 0.2 is not allowed; allowed: a number 1 to 5000 N
            , maxForceN: 400    | ""                    | f:6: limbs[0]: key maxForceN is missing
            holdS: [2, 3]       | holdS: [3, 2]         | f:9: efforts[0].holdS: [3,2] is not allowed; the first must not exceed the second
            holdS: [2, 3]       | holdS: [2, 3, 4]      | f:9: efforts[0].holdS: has 3 entries; allowed: 2 to 2
            holdS: [2, 3]       | holdS: [2, 900]       | f:9: efforts[0].holdS[1]: 900 is not allowed; allowed: a number 0 to 600
            holdS: [2, 3]       | limbs: [arm]          | f:9: efforts[0].limbs: no limb is called arm; limbs are left
            limb: left          | limb: nose            | f:16: cells[0].channels[0].limb: no limb is called nose; limbs are left
            "- {limb: left}"    | "[]"                  | f:15: cells[0].channels: has 0 entries; allowed: 1 to 8
            samplesPerFrame: 10 | binding: text         | f:11: cells[0].samplesPerFrame: 10 is not allowed; a text line holds 1 sample
            samplesPerFrame: 10 | sampleRateHz: 100     | f:11: cells[0].samplesPerFrame: 10 is not allowed; the protocol allows 50 ms a message, at 100.0 Hz at most 6
            kind: direct        | "kind: interval, framesPerInterval: 1" | f:14: cells[0].link: the link carries at most 31 messages/s and the cell sends 100
            kind: direct        | "kind: serial, baud: 9600" | f:14: cells[0].link: 9600 bit/s is too slow; the cell sends about
            bits: 24            | "bits: 16, offsetCounts: 40000" | f:13: cells[0].adc.offsetCounts: 40000 is not allowed; 16 bits reach from -32768 to 32767
            invented: true      | invented: false       | f:3: invented: false is not allowed; allowed: true
            "name: test"        | "name: Test 1"        | "f:2: name: ""Test 1"" is not allowed; allowed: text that matches"
            heldmark.scenario/1 | heldmark.scenario/2   | "f:1: schema: ""heldmark.scenario/2"" is not allowed; allowed: heldmark.scenario/1"
            "name: test"        | "name: test\nname: b" | "f:3: not YAML: Duplicate"
            "limbs:"            | "limbs: ["            | f:
            """)
    void shouldSayInOneLineWhatIsWrongAndWhatIsAllowed(String from, String to, String expected) {
        String yaml = GOOD.replace(from, to.replace("\\n", "\n"));
        ScenarioException refused = assertThrows(ScenarioException.class, () -> Scenario.parse(yaml, "f"));
        assertTrue(refused.getMessage().startsWith(expected), refused.getMessage());
        assertEquals(1, refused.getMessage().lines().count());
    }

    @Test
    void shouldCountFurtherFaults() {
        String yaml = GOOD.replace("bits: 24", "bits: 40, gain: -1, noiseSdN: -1");
        ScenarioException refused = assertThrows(ScenarioException.class, () -> Scenario.parse(yaml, "f"));
        assertTrue(refused.getMessage().endsWith("(and 2 more)"), refused.getMessage());
    }

    @ParameterizedTest
    @CsvSource({"''", "42", "'- a'", "'schema: heldmark.scenario/1'", "'a: b: c'", "'\t'"})
    void shouldRefuseWhatIsNoScenario(String yaml) {
        ScenarioException refused = assertThrows(ScenarioException.class, () -> Scenario.parse(yaml, "f"));
        assertTrue(refused.getMessage().startsWith("f:"), refused.getMessage());
        assertEquals(1, refused.getMessage().lines().count());
    }

    @Test
    void shouldRefuseWhatIsNoText(@TempDir Path folder) throws java.io.IOException {
        Path file = Files.write(folder.resolve("x.yaml"), new byte[] {(byte) 0xFF, (byte) 0xFE, 0, 1});
        ScenarioException refused = assertThrows(ScenarioException.class, () -> Scenario.load(file));
        assertTrue(refused.getMessage().contains("cannot be read as UTF-8 text"), refused.getMessage());
        assertThrows(ScenarioException.class, () -> Scenario.load(folder));
        assertThrows(ScenarioException.class, () -> Scenario.bundled("nothing"));
    }
}
