package io.heldmark.simulator.cli;

import picocli.CommandLine;

/** The program that runs a scenario. */
public final class SimulatorMain {
    private SimulatorMain() {}

    /** Runs the program and exits with its code. */
    public static void main(String[] args) {
        System.exit(run(new SimulateCommand(), args));
    }

    /**
     * Runs a command.
     *
     * @return 0 done, 1 scenario or port cannot be used, 2 wrong usage, 3 internal fault.
     */
    public static int run(SimulateCommand command, String... args) {
        CommandLine line = new CommandLine(command);
        line.setParameterExceptionHandler((e, rest) -> {
            command.err().println("simulate: " + e.getMessage() + " (--help shows the usage)");
            return 2;
        });
        line.setExecutionExceptionHandler((e, failed, result) -> {
            command.err().println("simulate: internal fault: " + e);
            return 3;
        });
        return line.execute(args);
    }
}
