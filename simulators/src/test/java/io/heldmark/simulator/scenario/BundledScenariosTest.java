package io.heldmark.simulator.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class BundledScenariosTest {
    private static final Path FOLDER = Path.of(System.getProperty("heldmark.root"), "simulators", "scenarios");

    static List<String> names() {
        return Scenario.BUNDLED;
    }

    @ParameterizedTest
    @MethodSource("names")
    void shouldLoadFromJarAndFromFolderAlike(String name) {
        Scenario bundled = Scenario.bundled(name);
        assertEquals(name, bundled.name());
        assertEquals(bundled, Scenario.load(FOLDER.resolve(name + ".yaml")));
        assertTrue(bundled.invented(), "says that it is invented");
        assertTrue(bundled.description().contains("invented"), "says so in words, too");
    }

    @Test
    void shouldListEveryFileOfTheFolder() throws IOException {
        try (Stream<Path> files = Files.list(FOLDER)) {
            List<String> found = files.map(file -> file.getFileName().toString().replace(".yaml", ""))
                    .sorted()
                    .toList();
            assertEquals(Scenario.BUNDLED.stream().sorted().toList(), found);
        }
    }
}
