package io.heldmark.simulator.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/**
 * Runs one scenario after the other, or several at once, in one process, for machines on which starting Java takes long: each line
 * of the standard input is the command line of a run, whose words are parted by spaces; it begins at once. When it is over, a line
 * {@code {"done":"the command line","code":0}} is printed.
 */
public final class SimulatorShell {
    private SimulatorShell() {}

    /** Runs until the standard input ends and all runs are over. */
    public static void main(String[] args) throws IOException, InterruptedException {
        run(System.in, System.out, System.err);
    }

    static void run(InputStream in, PrintStream out, PrintStream err) throws IOException, InterruptedException {
        BufferedReader lines = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
        List<Thread> runs = new ArrayList<>();
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
            String command = line.strip();
            if (!command.isEmpty()) {
                Thread run = new Thread(() -> runOne(command, out, err), "run " + command);
                runs.add(run);
                run.start();
            }
        }
        for (Thread run : runs) {
            run.join();
        }
    }

    private static void runOne(String command, PrintStream out, PrintStream err) {
        int code = SimulatorMain.run(new SimulateCommand(out, err, InputStream.nullInputStream()), command.split(" +"));
        out.println("{\"done\":\"" + command.replace("\\", "\\\\").replace("\"", "\\\"") + "\",\"code\":" + code + "}");
        out.flush();
    }
}
