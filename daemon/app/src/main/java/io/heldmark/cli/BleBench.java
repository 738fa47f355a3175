package io.heldmark.cli;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * The station and two virtual cells in a virtual machine with Bluetooth ({@code simulators/ble-bench/demo}), served to this
 * computer's browser.
 *
 * <p>The script ends when its standard input ends, so that the machine never outlives this process, however this one ends.
 */
final class BleBench implements AutoCloseable {
    private static final String SCRIPT = "simulators/ble-bench/demo";
    private static final String VIEWER = "viewer: ";
    private static final int END_WAIT_S = 5;

    private final Process process;
    private final String url;

    private BleBench(Process process, String url) {
        this.process = process;
        this.url = url;
    }

    /**
     * Boots the machine and waits until its station serves.
     *
     * @param port TCP port of the viewer; 0 takes a free one.
     * @param out takes what is told meanwhile.
     * @throws BadInputException if it does not come up; the script has said why.
     */
    static BleBench start(int port, PrintWriter out) throws IOException {
        Process process = new ProcessBuilder(
                        script(System.getProperty("java.class.path", "")).toString(), Integer.toString(port))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        BufferedReader lines = process.inputReader();
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
            if (line.startsWith(VIEWER)) {
                return new BleBench(process, line.substring(VIEWER.length()));
            }
            out.println(line);
        }
        throw new BadInputException("the demo over Bluetooth did not start; the line above says why");
    }

    /** The program lies in target/dist/lib of the project, which the bench is a part of. */
    static Path script(String classPath) {
        Path jar = Path.of(classPath.split(File.pathSeparator, -1)[0]).toAbsolutePath();
        for (Path folder = jar.getParent(); folder != null; folder = folder.getParent()) {
            Path script = folder.resolve(SCRIPT);
            if (Files.isExecutable(script)) {
                return script;
            }
        }
        throw new BadInputException("--ble needs the project's folder simulators/ble-bench, which is not where this"
                + " program lies: run heldmark from a clone of the project");
    }

    /** Returns the viewer's address. */
    String url() {
        return url;
    }

    /** Waits until the machine has ended. */
    void await() throws InterruptedException {
        process.waitFor();
    }

    @Override
    public void close() {
        ChildEnd.byClosingItsInput(process, END_WAIT_S);
    }
}
