package io.heldmark.cli;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Unmatched;

/** {@code heldmark simulate}: virtual load cells that send to any station. */
@Command(
        name = "simulate",
        description = {
            "Run the virtual load cells of a scenario, on pseudo-terminals or TCP ports.",
            "Prints one JSON line per cell with the link to give to a station; further options are those of the simulator:",
            "  --link pty|tcp:PORT  --truth FILE  --speed X  --seed N  --duration S"
        },
        mixinStandardHelpOptions = true)
final class SimulateCommand implements Callable<Integer> {
    @Parameters(index = "0", paramLabel = "SCENARIO", description = "A scenario file, or the name of a packed one.")
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private String scenario;

    @Unmatched
    @SuppressWarnings("NullAway.Init") // picocli sets it.
    private List<String> others;

    @Override
    public Integer call() throws IOException, InterruptedException {
        List<String> arguments = new ArrayList<>(List.of(scenario));
        if (others != null) {
            arguments.addAll(others);
        }
        Process process = new ProcessBuilder(SimulatorProcess.command(arguments))
                .inheritIO()
                .start();
        Thread end = new Thread(process::destroy, "simulator-end");
        Runtime.getRuntime().addShutdownHook(end);
        return process.waitFor();
    }
}
