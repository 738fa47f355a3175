package io.heldmark.house;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideOutsideOfPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** Large libraries stay behind one package, so that a station that makes no paper loads none of their classes. */
@AnalyzeClasses(packages = "io.heldmark", importOptions = ImportOption.DoNotIncludeTests.class)
class HeavyLibrariesTest {
    private static final String EXPORT = "io.heldmark.export";

    @ArchTest
    static final ArchRule SHOULD_KEEP_THE_LIBRARIES_OF_PAPERS_BEHIND_ONE_PACKAGE = noClasses()
            .that()
            .resideOutsideOfPackage(EXPORT)
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage(
                    "com.openhtmltopdf..", "org.apache.pdfbox..", "org.apache.fontbox..", "org.apache.batik..");

    @ArchTest
    static final ArchRule SHOULD_KNOW_NOTHING_ELSE_OF_THE_STATION = noClasses()
            .that()
            .resideInAPackage(EXPORT)
            .should()
            .dependOnClassesThat(resideInAPackage("io.heldmark..").and(resideOutsideOfPackage(EXPORT)));

    @ArchTest
    static final ArchRule SHOULD_BE_CALLED_FOR_CALIBRATIONS_ONLY = classes()
            .that()
            .resideInAPackage(EXPORT)
            .should()
            .onlyBeAccessed()
            .byAnyPackage(EXPORT, "io.heldmark.cells");
}
