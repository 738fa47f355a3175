package io.heldmark.cli;

import static java.nio.charset.StandardCharsets.UTF_16;
import static java.nio.charset.StandardCharsets.UTF_16BE;
import static java.nio.charset.StandardCharsets.UTF_16LE;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class AnalyseCommandTest {
    private static final JsonMapper JSON = new JsonMapper();
    private static final Path DOCS = Path.of(System.getProperty("heldmark.root"), "docs");
    private static final Path EXAMPLE = DOCS.resolve("examples").resolve("two-limbs-invented.csv");

    @TempDir
    Path folder;

    /** Runs and holds every document against the schema of the documentation. */
    static List<JsonNode> documents(Cli.Result result) throws Exception {
        Schema schema = SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                .getSchema(JSON.readTree(DOCS.resolve("analysis.schema.json").toFile()));
        List<JsonNode> documents = new ArrayList<>();
        for (String line : result.lines()) {
            JsonNode document = JSON.readTree(line);
            assertEquals("[]", schema.validate(document).toString());
            assertFalse(line.contains(":null"), line);
            documents.add(document);
        }
        return documents;
    }

    @Test
    void shouldPrintTheContractionsOfTheExample() throws Exception {
        Cli.Result result = Cli.run("analyse", EXAMPLE.toString(), "--json");
        assertEquals(0, result.code(), result.err());
        assertEquals("", result.err());
        List<JsonNode> documents = documents(result);
        assertEquals(1, documents.size());
        JsonNode d = documents.get(0);
        assertEquals("restBefore", d.path("zero").asText());
        assertEquals("left heel", d.at("/channels/0/name").asText());
        assertEquals(8470, d.at("/channels/1/samples").asInt());
        assertEquals(
                "[{\"startS\":4.199,\"durationS\":0.031}]",
                d.at("/channels/0/gaps").toString());
        assertEquals(4, d.path("contractions").size());
        assertEquals(2, d.path("efforts").size());
        // The truth of the example: make_example.py beside it.
        assertEquals(1.2, d.at("/contractions/0/onsetS").asDouble(), 0.01);
        assertEquals(402, d.at("/contractions/0/metrics/0/value").asDouble(), 1);
        assertEquals(14, d.at("/contractions/0/restingLevelN").asDouble(), 0.2);
        assertEquals(
                100 * Math.log(402 / 371.0), d.at("/efforts/0/asymmetry/value").asDouble(), 0.5);
    }

    @Test
    void shouldSayTheSameInWords() {
        Cli.Result result = Cli.run("analyse", EXAMPLE.toString());
        assertEquals(0, result.code(), result.err());
        assertTrue(result.out().contains("forces relative to the rest before each contraction"), result.out());
        assertTrue(result.out().contains("channel left heel: 8470 samples at 1000.00 Hz, 1 gap\n"), result.out());
        assertTrue(result.out().contains("contraction 1, left heel, onset 1."), result.out());
        assertTrue(result.out().contains("force.peak              402."), result.out());
        assertTrue(result.out().contains("left 1 with right 2: asymmetry 8.0"), result.out());
    }

    /** Who says that the cue was explosive is told all that is missing, and with all of it said the rates are there. */
    @Test
    void shouldGiveRatesOnceAllIsSaidAndSayWhatIsMissingBefore() throws Exception {
        List<String> said = new ArrayList<>(List.of("analyse", EXAMPLE.toString(), "--json"));
        assertTrue(rate(said).has("value"), "nobody said anything: the trace qualifies");
        said.addAll(List.of("--cue", "explosive"));
        assertEquals(
                "the cue is explosive, but it is not said: that the fixation is rigid (fixation); the converter's bandwidth"
                        + " (bandwidth-hz; of a link: bandwidth in its address); the person's own maximum (own-maximum-n)",
                rate(said).path("notComputed").asText());
        said.addAll(List.of("--fixation", "rigid", "--own-maximum-n", "420"));
        assertEquals(
                "the cue is explosive, but it is not said: the converter's bandwidth"
                        + " (bandwidth-hz; of a link: bandwidth in its address)",
                rate(said).path("notComputed").asText());
        said.addAll(List.of("--bandwidth-hz", "262"));
        assertTrue(rate(said).path("value").asDouble() > 200);
    }

    private static JsonNode rate(List<String> arguments) throws Exception {
        JsonNode first =
                documents(Cli.run(arguments.toArray(new String[0]))).get(0).at("/contractions/0");
        for (JsonNode metric : first.path("metrics")) {
            if (metric.path("id").asText().equals("rfd.0-100ms")) {
                return metric;
            }
        }
        throw new AssertionError("no rate in " + first);
    }

    @Test
    void shouldPrintOneDocumentForEachGoodInputAndOneLineForEachBadOne() throws Exception {
        Path bad = Files.writeString(folder.resolve("b.csv"), "time_s,left\n0,1\n0.001,NaN\n");
        Files.copy(EXAMPLE, folder.resolve("a.csv"));
        Files.copy(EXAMPLE, folder.resolve("c.csv"));
        Files.writeString(folder.resolve("notes.txt"), "not looked at");
        Cli.Result result = Cli.run("analyse", folder.toString(), bad.toString(), folder + "/none.csv", "--json");
        assertEquals(1, result.code());
        List<JsonNode> documents = documents(result);
        assertEquals(
                List.of("a.csv", "c.csv"),
                documents.stream().map(AnalyseCommandTest::fileName).toList());
        assertEquals(
                List.of(
                        "heldmark: " + bad + ": line 3: left is \"NaN\", which is no number; leave the cell empty where"
                                + " a sample is missing",
                        "heldmark: " + bad + ": line 3: left is \"NaN\", which is no number; leave the cell empty where"
                                + " a sample is missing",
                        "heldmark: " + folder + "/none.csv: there is no such file"),
                result.err().lines().toList());
    }

    static Stream<Arguments> filesThatCannotBeUsed() {
        String table = "time_s,left\n0,1\n0.001,2\n";
        byte[] noise = new byte[3000];
        new SplittableRandom(5).nextBytes(noise);
        noise[0] = 'x'; // Not by chance the beginning of another kind of file.
        byte[] packed = noise.clone();
        System.arraycopy(new byte[] {'P', 'K', 3, 4}, 0, packed, 0, 4);
        String utf16 = "is text in UTF-16; save it as UTF-8 (CSV UTF-8)";
        return Stream.of(
                Arguments.of("a.csv", table.getBytes(UTF_16), utf16),
                Arguments.of("a.csv", table.getBytes(UTF_16LE), utf16),
                Arguments.of("a.csv", table.getBytes(UTF_16BE), utf16),
                Arguments.of(
                        "a.csv",
                        table.replace('\n', '\r').getBytes(UTF_8),
                        "has lines that end with a carriage return alone; save it with line feeds (LF, or CR LF)"),
                Arguments.of(
                        "a.csv", packed, "is a spreadsheet or another packed file; export the table as CSV (UTF-8)"),
                Arguments.of(
                        "a.csv",
                        new byte[300_000],
                        "is no text file (a byte 0x00 stands in it); a recording, or a table as CSV in UTF-8 is needed"),
                Arguments.of("a.csv", noise, "is no text file (a byte 0x"),
                Arguments.of(
                        "a.csv",
                        "time_s,left,right\n0,1,\n0.001,2,\n0.002,3,\n".getBytes(UTF_8),
                        "the column right has no value in any row that has a time; fill it or take it out"),
                Arguments.of("a.pcapng", noise, "is not a recording: it does not begin with a pcapng section header"),
                Arguments.of("a.pcapng", new byte[0], "is empty"),
                Arguments.of("a.txt", table.getBytes(UTF_8), "no recording (.pcapng) and no CSV file (.csv) is in"));
    }

    /** The folder is named, so that what is no input by its name is not one either. */
    @ParameterizedTest
    @MethodSource("filesThatCannotBeUsed")
    void shouldSayWhatIsWrongWithAFileAndPrintNothing(String name, byte[] bytes, String why) throws Exception {
        Path file = Files.write(folder.resolve(name), bytes);
        Cli.Result result = Cli.run("analyse", folder.toString(), "--json");
        assertEquals(1, result.code(), result.err());
        assertEquals("", result.out());
        assertEquals(1, result.err().lines().count(), result.err());
        assertTrue(result.err().contains(why), result.err());
        assertTrue(result.err().contains(name.endsWith(".txt") ? folder.toString() : file.toString()), result.err());
    }

    @Test
    void shouldGoOnAfterAFolderWithoutInputs() throws Exception {
        Path empty = Files.createDirectory(folder.resolve("empty"));
        Cli.Result result = Cli.run("analyse", empty.toString(), EXAMPLE.toString(), "--json");
        assertEquals(1, result.code());
        assertEquals(1, documents(result).size());
        assertEquals(
                "heldmark: " + empty
                        + ": no recording (.pcapng) and no CSV file (.csv) is in this folder; name the files,"
                        + " or another folder (folders in it are not looked into)\n",
                result.err());
    }

    private static String fileName(JsonNode document) {
        return Path.of(document.path("input").asText()).getFileName().toString();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "--plan heel-push | --plan heel-push: test plans are not there yet; leave --plan out",
                "--left none | line 1: no column is called none (--left); there are: left heel, right heel",
                "--lever-arm-m 0 | --lever-arm-m 0.0 is not allowed: 0.01 to 3.0",
                "--body-mass-kg NaN | --body-mass-kg NaN is not allowed: 5.0 to 500.0",
                "--bandwidth-hz 0 | --bandwidth-hz 0.0 is not allowed: 0.1 to 1000000",
                "--calibration-u-percent -1 | --calibration-u-percent -1.0 is not allowed: 0 to 100",
                "--set detect.longestS=1 | detect.longestS=1 is not allowed",
            })
    void shouldRefuseInOneLineAndPrintNothing(String options, String why) {
        List<String> args = new ArrayList<>(List.of("analyse", EXAMPLE.toString(), "--json"));
        args.addAll(List.of(options.split(" ")));
        Cli.Result result = Cli.run(args.toArray(new String[0]));
        assertEquals(1, result.code(), result.err());
        assertEquals("", result.out());
        assertEquals(1, result.err().lines().count(), result.err());
        assertTrue(result.err().contains(why), result.err());
    }

    @ParameterizedTest
    @ValueSource(strings = {"how-to/analyse-a-csv.md", "how-to/compare-tests.md"})
    void shouldRunEveryCommandOfTheDocumentation(String page) throws Exception {
        int commands = 0;
        for (String line : Files.readAllLines(DOCS.resolve(page))) {
            if (line.startsWith("    ./heldmark ")) {
                commands++;
                String here = line.strip().replace(" docs/", " " + DOCS + "/");
                String[] words = here.split(" ");
                Cli.Result result =
                        Cli.run(List.of(words).subList(1, words.length).toArray(new String[0]));
                assertEquals(0, result.code(), line + "\n" + result.err());
                assertFalse(result.out().isEmpty(), line);
            }
        }
        assertTrue(commands >= 4, "commands on the page: " + commands);
    }
}
