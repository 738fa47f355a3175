package io.heldmark;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.AccessTarget;
import com.tngtech.archunit.core.domain.JavaCall;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** The dependency table of the core: who may import whom, who reads clocks, and what keeps results the same everywhere. */
@AnalyzeClasses(packages = "io.heldmark", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    private static final String BASE = "io.heldmark.";

    /** Packages of the core and the packages of ours that each may import beside itself. */
    private static final Map<String, Set<String>> MAY_IMPORT = Map.ofEntries(
            Map.entry("model", Set.of()),
            Map.entry("time", Set.of()),
            Map.entry("config", Set.of()),
            Map.entry("link", Set.of("model", "time", "config")),
            Map.entry("decode", Set.of("model", "time", "config", "link", "protocol")),
            Map.entry("align", Set.of("model", "time", "config", "link")),
            Map.entry("cell", Set.of("model")),
            Map.entry("calibrate", Set.of("model", "time", "config", "link")),
            Map.entry("calibration", Set.of("model")),
            Map.entry("filter", Set.of("model", "time", "config", "link")),
            Map.entry("detect", Set.of("model", "time", "config", "link", "filter")),
            Map.entry("metric", Set.of("model", "time", "config", "link", "filter")),
            Map.entry("record", Set.of("model", "time", "config", "link")),
            Map.entry("importer", Set.of("model", "time", "config", "link")),
            // A check judges a sender by its bytes alone: links and the codec, no stage of a station.
            Map.entry("conform", Set.of("model", "time", "config", "link", "protocol")),
            Map.entry("live", Set.of("model", "time", "config", "link")));

    /** Functions of java.lang.Math whose last digit may differ between machines; StrictMath has them all. */
    private static final Set<String> INEXACT = Set.of(
            "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "exp", "expm1", "log", "log10", "log1p", "pow",
            "sinh", "cosh", "tanh", "cbrt", "hypot");

    private static DescribedPredicate<JavaClass> forbiddenFor(String name, Set<String> allowed) {
        return DescribedPredicate.describe("of ours outside " + allowed, target -> {
            String to = target.getPackageName();
            boolean ours = (to + ".").startsWith(BASE);
            return ours && !to.equals(BASE + name) && allowed.stream().noneMatch(a -> to.equals(BASE + a));
        });
    }

    private static DescribedPredicate<JavaCall<?>> callOf(String owner, Set<String> names) {
        return DescribedPredicate.describe("calls of " + owner + " " + names, call -> {
            AccessTarget.CodeUnitCallTarget target = call.getTarget();
            return target.getOwner().getName().equals(owner) && names.contains(target.getName());
        });
    }

    @ArchTest
    static void shouldKeepToTheDependencyTable(JavaClasses classes) {
        MAY_IMPORT.forEach((name, allowed) -> noClasses()
                .that()
                .resideInAPackage(BASE + name)
                .should()
                .dependOnClassesThat(forbiddenFor(name, allowed))
                .check(classes));
    }

    @ArchTest
    static void shouldKnowEveryPackage(JavaClasses classes) {
        List<String> unknown = classes.stream()
                .map(JavaClass::getPackageName)
                .distinct()
                .filter(p ->
                        p.startsWith(BASE) && !p.startsWith(BASE + "protocol") && !p.startsWith(BASE + "simulator"))
                .map(p -> p.substring(BASE.length()))
                .filter(p -> !p.equals("pipeline") && !MAY_IMPORT.containsKey(p))
                .toList();
        assertEquals(List.of(), unknown, "packages that the table does not name");
    }

    @ArchTest
    static final ArchRule SHOULD_READ_CLOCKS_IN_ONE_PACKAGE_ONLY = noClasses()
            .that()
            .resideInAPackage("io.heldmark..")
            .and()
            .resideOutsideOfPackages("io.heldmark.time", "io.heldmark.simulator..")
            .should()
            .callMethodWhere(callOf("java.lang.System", Set.of("nanoTime", "currentTimeMillis")))
            .orShould()
            .callMethodWhere(callOf("java.time.Instant", Set.of("now")))
            .orShould()
            .callMethodWhere(callOf("java.time.Clock", Set.of("systemUTC", "systemDefaultZone", "system")))
            .orShould()
            .callMethodWhere(callOf("java.time.LocalDateTime", Set.of("now")))
            .orShould()
            .callMethodWhere(callOf("java.time.ZonedDateTime", Set.of("now")));

    @ArchTest
    static final ArchRule SHOULD_USE_STRICT_MATH_FOR_INEXACT_FUNCTIONS = noClasses()
            .that()
            .resideInAPackage("io.heldmark..")
            .and()
            .resideOutsideOfPackages("io.heldmark.simulator..")
            .should()
            .callMethodWhere(callOf("java.lang.Math", INEXACT));

    @ArchTest
    static final ArchRule SHOULD_NOT_PRINT = noClasses()
            .that()
            .resideInAPackage("io.heldmark..")
            .and()
            .resideOutsideOfPackages("io.heldmark.simulator..")
            .should()
            .accessField(System.class, "out")
            .orShould()
            .accessField(System.class, "err");
}
