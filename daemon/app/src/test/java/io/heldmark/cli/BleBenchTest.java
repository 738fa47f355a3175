package io.heldmark.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Where the machine is looked for; that it runs is the bench's own proof. */
class BleBenchTest {
    @Test
    void shouldFindTheBenchOfTheProjectThatTheProgramLiesIn() {
        Path root = Path.of(System.getProperty("heldmark.root")).toAbsolutePath();
        String classPath = root.resolve("target/dist/lib/heldmark-app.jar") + ":/elsewhere/other.jar";
        assertEquals(root.resolve("simulators/ble-bench/demo"), BleBench.script(classPath));
    }

    @Test
    void shouldSayWhatToDoWhereTheProgramLiesElsewhere(@TempDir Path elsewhere) {
        String classPath = elsewhere.resolve("lib/heldmark-app.jar").toString();
        String line = assertThrows(BadInputException.class, () -> BleBench.script(classPath))
                .getMessage();
        assertTrue(line.contains("simulators/ble-bench") && line.contains("clone"), line);
    }
}
