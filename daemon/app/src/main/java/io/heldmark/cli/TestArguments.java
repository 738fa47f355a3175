package io.heldmark.cli;

import io.heldmark.metric.AsymmetryFormula;
import io.heldmark.metric.PublishedAsymmetry;
import io.heldmark.metric.StatedTest;
import io.heldmark.metric.StatedTest.Mode;
import io.heldmark.metric.TestBook;
import io.heldmark.model.Limb;
import io.heldmark.model.TestConditions;
import io.heldmark.pipeline.ConditionFields;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What the user says and asks of the tests in the inputs. */
final class TestArguments {
    @Option(
            names = "--mode",
            paramLabel = "MODE",
            description =
                    "All trials of an input are one test: bilateral (both limbs at once), unilateral (one at a time) or"
                            + " oneLoadPath (both against each other). Gives the asymmetry of the set.")
    private @Nullable String mode;

    @Option(
            names = "--tests",
            paramLabel = "FILE",
            description = "A table of the tests in the inputs: their times, angles, muscles and so on.")
    private @Nullable Path table;

    @Option(
            names = "--ratio",
            paramLabel = "AGONIST:ANTAGONIST",
            description = "Ratio of the torques of two tests of the table.")
    private List<String> ratios = new ArrayList<>();

    @Option(
            names = "--asymmetry-formula",
            paramLabel = "NAME",
            description = "A published asymmetry beside the station's own, by name (see docs/metrics.md).")
    private List<String> formulas = new ArrayList<>();

    @Option(
            names = "--reference-limb",
            paramLabel = "LIMB",
            description = "left or right: what a published asymmetry divides by, where it divides by a chosen limb.")
    private @Nullable String referenceLimb;

    private TestTable read = new TestTable(List.of());
    private TestConditions base = TestConditions.UNKNOWN;
    private List<PublishedAsymmetry> asked = List.of();
    private List<TestQuestions.Ratio> askedRatios = List.of();

    /** Reads and checks everything; throws BadInputException with one line. */
    void prepare(TestConditions saidOfAll) {
        base = saidOfAll;
        if (mode != null && table != null) {
            throw new BadInputException("--mode and --tests exclude each other: the table has a column mode");
        }
        if (mode != null) {
            StatedTest whole =
                    StatedTest.whole("all trials", ConditionFields.word(Mode.class, "--mode", mode), saidOfAll);
            read = new TestTable(List.of(new TestTable.Row("", whole, null)));
        } else if (table != null) {
            read = TestTable.read(table, saidOfAll);
        }
        asked = formulas.stream().map(this::formula).toList();
        Set<String> names = new TreeSet<>();
        read.rows().forEach(row -> names.add(row.name()));
        askedRatios = ratios.stream().map(text -> ratio(text, names)).toList();
    }

    private PublishedAsymmetry formula(String name) {
        try {
            AsymmetryFormula formula = AsymmetryFormula.named(name);
            boolean chosen = formula.reference() == AsymmetryFormula.Reference.CHOSEN;
            if (chosen && referenceLimb == null) {
                throw new BadInputException("--asymmetry-formula " + name
                        + " divides by a chosen limb: say --reference-limb left or right");
            }
            return new PublishedAsymmetry(formula, chosen ? reference() : Limb.NONE);
        } catch (IllegalArgumentException e) {
            throw new BadInputException("--asymmetry-formula: " + e.getMessage(), e);
        }
    }

    private Limb reference() {
        Limb limb = ConditionFields.word(Limb.class, "--reference-limb", String.valueOf(referenceLimb));
        if (limb == Limb.NONE) {
            throw new BadInputException("--reference-limb none is not allowed: left, right");
        }
        return limb;
    }

    private static TestQuestions.Ratio ratio(String text, Set<String> names) {
        int colon = text.indexOf(':');
        if (colon <= 0) {
            throw new BadInputException(
                    "--ratio " + text + " is not allowed: AGONIST:ANTAGONIST, two tests of the table");
        }
        TestQuestions.Ratio ratio = new TestQuestions.Ratio(
                text.substring(0, colon).strip(), text.substring(colon + 1).strip());
        for (String name : List.of(ratio.agonist(), ratio.antagonist())) {
            if (!names.contains(name)) {
                throw new BadInputException("--ratio " + text + ": no test is called " + name + "; there are: "
                        + (names.isEmpty() ? "none without --tests FILE" : String.join(", ", names)));
            }
        }
        return ratio;
    }

    /** Tells whether a file is the table itself, which is no input where it lies in a folder of inputs. */
    boolean isTable(Path file) {
        return table != null
                && table.toAbsolutePath()
                        .normalize()
                        .equals(file.toAbsolutePath().normalize());
    }

    /** Returns what is said and asked of one input. */
    TestQuestions questionsOf(Path input) {
        List<TestTable.Row> rows =
                read.rows().stream().filter(row -> row.holdsFor(input)).toList();
        List<StatedTest> tests =
                rows.stream().map(TestTable.Row::test).filter(Objects::nonNull).toList();
        List<TestBook.Imported> imported = rows.stream()
                .map(TestTable.Row::imported)
                .filter(Objects::nonNull)
                .toList();
        Set<String> names = new TreeSet<>();
        rows.forEach(row -> names.add(row.name()));
        List<TestQuestions.Ratio> here = askedRatios.stream()
                .filter(r -> names.contains(r.agonist()) && names.contains(r.antagonist()))
                .toList();
        return new TestQuestions(base, tests, imported, here, asked);
    }
}
