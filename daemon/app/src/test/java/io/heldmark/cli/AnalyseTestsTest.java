package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Tests within an input, by the invented example: sets, asymmetries by name, ratios, torque over the angle. */
class AnalyseTestsTest {
    private static final Path EXAMPLES = Path.of(System.getProperty("heldmark.root"), "docs", "examples");
    private static final String KNEE =
            EXAMPLES.resolve("knee-tests-invented.csv").toString();
    private static final String TABLE = EXAMPLES.resolve("knee-tests.csv").toString();
    private static final String HEEL =
            EXAMPLES.resolve("two-limbs-invented.csv").toString();

    @TempDir
    Path folder;

    private static JsonNode document(String... args) throws Exception {
        List<String> all = new ArrayList<>(List.of("analyse", "--json"));
        all.addAll(List.of(args));
        Cli.Result result = Cli.run(all.toArray(new String[0]));
        assertEquals(0, result.code(), result.err());
        return AnalyseCommandTest.documents(result).get(0);
    }

    /** The truth: docs/examples/make_tests_example.py. */
    @Test
    void shouldGiveSetsRatiosAndProfilesOfTheExample() throws Exception {
        JsonNode d =
                document(KNEE, "--tests", TABLE, "--ratio", "flexor-30:extensor-60", "--calibration-u-percent", "0.5");
        assertEquals(3, d.path("tests").size());
        JsonNode flexor = d.at("/tests/0");
        assertEquals("bilateral", flexor.path("mode").asText());
        assertEquals(30, flexor.at("/conditions/angleDeg").asDouble());
        assertEquals("[1,3,5]", flexor.at("/limbs/0/countedIds").toString());
        assertEquals(263, flexor.at("/limbs/0/metrics/0/value").asDouble(), 1);
        assertEquals(0.36 * 263, flexor.at("/limbs/0/metrics/1/value").asDouble(), 0.4);
        double index = 100 * (Math.log(262 / 240.0) + Math.log(268 / 247.0) + Math.log(259 / 241.0)) / 3;
        assertEquals(index, flexor.at("/asymmetry/value").asDouble(), 0.3);
        // Two cells never compared, 0.5 % each, the same in all three efforts.
        assertEquals(
                0.5 * Math.sqrt(2), flexor.at("/asymmetry/standardUncertainty").asDouble(), 0.03);

        JsonNode ratio = d.at("/ratios/0");
        assertEquals("left", ratio.path("limb").asText());
        assertEquals(
                "isometric torque ratio, 30° flexor / 60° extensor, hip sitting",
                ratio.path("title").asText());
        assertEquals(263.0 / 423, ratio.at("/ratio/value").asDouble(), 0.003);
        // Both angles are set to 2 degrees: the flexor's slope is known from 60 degrees, the extensor's is taken as 1
        // %.
        double here = d.at("/profiles/0/points/0/torque/value").asDouble();
        double there = d.at("/profiles/0/points/1/torque/value").asDouble();
        assertEquals(
                ratio.at("/ratio/value").asDouble() * Math.hypot(2 * (here - there) / 30 / here, 2 * 0.01),
                term(ratio.path("ratio"), "angle-setting"),
                1e-12);
        assertEquals(2, d.path("profiles").size());
        assertEquals(30, d.at("/profiles/1/points/0/angleDeg").asDouble());
        assertEquals(0.36 * 242.7, d.at("/profiles/1/points/0/torque/value").asDouble(), 0.4);
        assertEquals(0.36 * 212.3, d.at("/profiles/1/points/1/torque/value").asDouble(), 0.4);
    }

    private static double term(JsonNode metric, String source) {
        for (JsonNode term : metric.path("budget")) {
            if (term.path("term").asText().equals(source)) {
                return term.path("standardUncertainty").asDouble();
            }
        }
        throw new AssertionError("no " + source + " in " + metric);
    }

    @Test
    void shouldSayItInWords() {
        Cli.Result result = Cli.run("analyse", KNEE, "--tests", TABLE, "--ratio", "flexor-30:extensor-60");
        assertEquals(0, result.code(), result.err());
        assertTrue(result.out().contains("  test flexor-30: mean of the first 3 accepted trials"), result.out());
        assertTrue(
                result.out()
                        .contains("left, isometric torque ratio, 30° flexor / 60° extensor, hip sitting: 0.622(0.0"),
                result.out());
        assertTrue(result.out().contains("    left: 3 trials, the mean is of contractions 1, 3, 5\n"), result.out());
        assertTrue(result.out().contains("right, flexor: torque over the joint angle"), result.out());
    }

    @Test
    void shouldMakeOneTestOfAllTrials() throws Exception {
        JsonNode d = document(HEEL, "--mode", "bilateral");
        assertEquals(1, d.path("tests").size());
        double index = 100 * (Math.log(402 / 371.0) + Math.log(389 / 366.0)) / 2;
        assertEquals(index, d.at("/tests/0/asymmetry/value").asDouble(), 0.3);
        assertTrue(document(HEEL, "--mode", "oneLoadPath")
                .at("/tests/0/asymmetry/notComputed")
                .asText()
                .contains("third law"));
        assertTrue(document(HEEL, "--mode", "unilateral")
                .at("/tests/0/asymmetry/notComputed")
                .asText()
                .startsWith("both limbs worked at once"));
        assertFalse(document(HEEL).has("tests"), "nobody said which tests were made");
    }

    @Test
    void shouldGivePublishedAsymmetriesByNameWithTheReferenceLimb() throws Exception {
        JsonNode d = document(
                HEEL,
                "--asymmetry-formula",
                "symmetry-angle",
                "--asymmetry-formula",
                "difference-to-reference",
                "--reference-limb",
                "left");
        JsonNode others = d.at("/efforts/0/otherAsymmetries");
        assertEquals("asymmetry.symmetry-angle", others.at("/0/id").asText());
        assertEquals(
                100 * (45 - Math.toDegrees(Math.atan2(402, 371))) / 90,
                others.at("/0/value").asDouble(),
                0.2);
        assertTrue(others.at("/1/formula").asText().endsWith("reference limb: left"), others.toString());
        assertEquals(100 * (402 - 371) / 402.0, others.at("/1/value").asDouble(), 0.3);
    }

    @Test
    void shouldHoldWhatIsSaidOfATestForItsTrialsAlone() throws Exception {
        Path table = Files.writeString(folder.resolve("t.csv"), """
                test,input,from_s,to_s,lever_arm_m,gravity,gravity_torque_nm
                a,two-limbs-invented.csv,,4,0.4,removedByZero,
                b,two-limbs-invented.csv,4,,0.4,add,12
                c,other.csv,,,0.2,,
                """);
        JsonNode d = document(HEEL, "--tests", table.toString());
        assertEquals(2, d.path("tests").size(), "the third row is of another input");
        JsonNode first = metric(d.at("/contractions/0"), "torque.peak");
        assertEquals(0.4 * 402, first.path("value").asDouble(), 0.5);
        // The rest before a contraction is its zero, with the limb in place: its weight is gone already.
        JsonNode second = metric(d.at("/contractions/2"), "torque.peak");
        assertEquals(
                "the zero removed the limb's weight already: it is not corrected again",
                second.path("notComputed").asText());
    }

    @Test
    void shouldTakeImportedTorquesForAFunctionalRatio() throws Exception {
        Path table = Files.writeString(folder.resolve("t.csv"), """
                test,limb,muscle,action,speed_deg_per_s,hip,angle_deg,gravity,torque_nm,torque_u_nm
                down,left,flexor,eccentric,60,sitting,30,add,140,2
                up,left,extensor,concentric,60,sitting,30,add,175,2.5
                """);
        JsonNode ratio = document(HEEL, "--tests", table.toString(), "--ratio", "down:up")
                .at("/ratios/0");
        assertTrue(ratio.path("title").asText().startsWith("functional torque ratio at 60°/s"), ratio.toString());
        assertEquals(0.8, ratio.at("/ratio/value").asDouble(), 1e-12);
        assertEquals(
                0.8 * Math.sqrt(Math.pow(2 / 140.0, 2) + Math.pow(2.5 / 175, 2)),
                ratio.at("/ratio/standardUncertainty").asDouble(),
                1e-9);
    }

    @Test
    void shouldMirrorEverythingWhenLimbsAreSwapped() throws Exception {
        JsonNode one = document(HEEL, "--mode", "bilateral", "--left", "left heel", "--right", "right heel");
        JsonNode other = document(HEEL, "--mode", "bilateral", "--left", "right heel", "--right", "left heel");
        for (String value : List.of("/efforts/1/asymmetry/value", "/efforts/1/onsetLagS", "/tests/0/asymmetry/value")) {
            assertEquals(-one.at(value).asDouble(), other.at(value).asDouble(), 1e-9, value);
            assertTrue(Math.abs(one.at(value).asDouble()) > 1e-3, value);
        }
        String u = "/tests/0/asymmetry/standardUncertainty";
        assertEquals(one.at(u).asDouble(), other.at(u).asDouble(), 1e-12);
    }

    @Test
    void shouldFollowSymmetryThroughALowering() throws Exception {
        JsonNode parts = document(HEEL, "--effort-type", "eccentric").at("/efforts/0/symmetry/parts");
        assertEquals(10, parts.size());
        JsonNode last = parts.get(9);
        assertEquals(2.6, last.path("endS").asDouble(), 0.05);
        assertEquals(100 * Math.log(402 / 371.0), last.at("/asymmetry/value").asDouble(), 0.3);
        assertFalse(document(HEEL).at("/efforts/0").has("symmetry"), "nobody said that it was a lowering");
        Cli.Result words = Cli.run("analyse", HEEL, "--effort-type", "eccentric");
        assertTrue(words.out().contains("    asymmetry from 2."), words.out());
    }

    private static JsonNode metric(JsonNode contraction, String id) {
        for (JsonNode metric : contraction.path("metrics")) {
            if (metric.path("id").asText().equals(id)) {
                return metric;
            }
        }
        throw new AssertionError("no " + id);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "test;mode/a;both | line 2: mode both is not allowed: bilateral, unilateral, oneLoadPath",
                "test;colour/a;red | line 1: there is no column colour; known are action, angle_deg",
                "mode/bilateral | line 1: the column test (the test's name) is missing",
                "test;angle_deg/a | line 2: 1 cells, but 2 columns",
                "test;angle_deg/a;steep | line 2: angle_deg steep is no number",
                "test;lever_arm_m/a;36 | line 2: lever_arm_m 36 is not allowed: 0.01 to 3.0",
                "test;from_s;to_s/a;5;4 | line 2: to_s must be later than from_s",
                "test;from_s;to_s/a;0;4/b;3;9 | the tests a and b overlap; a trial is of one test",
                "test;torque_nm;limb/a;100;left | line 2: torque_u_nm  is no number",
                "test/ | line 1",
            })
    void shouldRefuseATableInOneLine(String lines, String why) throws Exception {
        Path table = folder.resolve("t.csv");
        Files.writeString(
                table, lines.equals("test/") ? "" : lines.replace(';', ',').replace('/', '\n') + "\n");
        Cli.Result result = Cli.run("analyse", HEEL, "--json", "--tests", table.toString());
        assertEquals(1, result.code(), result.err());
        assertEquals("", result.out());
        assertEquals(1, result.err().lines().count(), result.err());
        assertTrue(result.err().contains(why), result.err());
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "--ratio a:b | no test is called a; there are: none without --tests FILE",
                "--ratio ab | --ratio ab is not allowed: AGONIST:ANTAGONIST",
                "--asymmetry-formula x | no asymmetry of the name x; there are stronger-minus-weaker",
                "--asymmetry-formula asymmetry-index | say --reference-limb left or right",
                "--asymmetry-formula asymmetry-index --reference-limb none | --reference-limb none is not allowed",
                "--gravity up | --gravity up is not allowed: removedByZero, add, subtract, none",
                "--mode both | --mode both is not allowed",
                "--mode bilateral --tests x.csv | --mode and --tests exclude each other",
                "--tests none.csv | --tests none.csv: cannot be read",
            })
    void shouldRefuseOptionsInOneLine(String options, String why) {
        List<String> args = new ArrayList<>(List.of("analyse", HEEL, "--json"));
        args.addAll(List.of(options.split(" ", -1)));
        Cli.Result result = Cli.run(args.toArray(new String[0]));
        assertEquals(1, result.code(), result.err());
        assertEquals("", result.out());
        assertEquals(1, result.err().lines().count(), result.err());
        assertTrue(result.err().contains(why), result.err());
    }
}
