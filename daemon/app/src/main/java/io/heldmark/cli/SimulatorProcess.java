package io.heldmark.cli;

import java.io.File;
import java.lang.management.ManagementFactory;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** The simulator as a process of its own, with the Java and the class path of this one. */
final class SimulatorProcess {
    private static final String MAIN_CLASS = "io.heldmark.simulator.cli.SimulatorMain";

    private SimulatorProcess() {}

    /** Returns the command line that runs the simulator with these arguments. */
    static List<String> command(List<String> arguments) {
        List<String> command = new ArrayList<>();
        command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
        command.addAll(List.of("-XX:+UseSerialGC", "-Xmx96m", "-Xss512k", "-XX:TieredStopAtLevel=1", "-Xshare:auto"));
        for (String option : ManagementFactory.getRuntimeMXBean().getInputArguments()) {
            // The class-data archive of the launcher fits the child, too, and halves its start; and where Java itself
            // has
            // something to say it must not say it among the child's JSON.
            if (option.startsWith("-XX:SharedArchiveFile=")
                    || option.startsWith("--enable-native-access")
                    || option.startsWith("--sun-misc-unsafe-memory-access")
                    || option.startsWith("-Xlog:")) {
                command.add(option);
            }
        }
        command.add("-cp");
        command.add(absolute(System.getProperty("java.class.path", "")));
        command.add(MAIN_CLASS);
        command.addAll(arguments);
        return command;
    }

    private static String absolute(String classPath) {
        List<String> entries = new ArrayList<>();
        for (String entry : classPath.split(File.pathSeparator, -1)) {
            entries.add(Path.of(entry).toAbsolutePath().toString());
        }
        return String.join(File.pathSeparator, entries);
    }
}
