package io.heldmark.simulator.cli;

import io.heldmark.simulator.sender.Endpoint;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * Commands for cells while they run: lines that are appended to a file. {@code hang CELL NEWTONS} hangs a dead weight on a cell in
 * place of the person (0: nothing), {@code free CELL} gives the cell back to the person. A line that is none is named and passed
 * over.
 */
final class ControlFile {
    private static final long POLL_MS = 50;
    private static final double MOST_N = 1e6;

    private final Path file;
    private final List<Endpoint> endpoints;
    private final PrintStream err;
    private int read;

    ControlFile(Path file, List<Endpoint> endpoints, PrintStream err) {
        this.file = file;
        this.endpoints = endpoints;
        this.err = err;
    }

    /** Follows the file on a thread of its own. */
    void start() {
        Thread thread = new Thread(this::follow, "simulate-control");
        thread.setDaemon(true);
        thread.start();
    }

    private void follow() {
        try {
            while (true) {
                poll();
                Thread.sleep(POLL_MS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Does what was appended since the last time; a line counts once its end is there. */
    void poll() {
        if (!Files.isRegularFile(file)) {
            return;
        }
        try {
            String text = Files.readString(file);
            int end = text.lastIndexOf('\n') + 1;
            if (end < read) {
                read = 0; // It was written anew.
            }
            for (String line : text.substring(read, end).split("\n", -1)) {
                if (!line.isBlank() && !run(line.strip())) {
                    err.println("simulate: no such command: " + line.strip());
                }
            }
            read = end;
        } catch (IOException e) {
            err.println("simulate: " + file + " cannot be read");
        }
    }

    private boolean run(String line) {
        String[] words = line.split("\\s+", -1);
        for (Endpoint endpoint : endpoints) {
            if (words.length > 1 && endpoint.name().equals(words[1])) {
                if (words[0].equals("free") && words.length == 2) {
                    endpoint.free();
                    return true;
                }
                double newtons = words.length == 3 ? number(words[2]) : Double.NaN;
                if (words[0].equals("hang") && Math.abs(newtons) <= MOST_N) {
                    endpoint.hang(newtons);
                    return true;
                }
            }
        }
        return false;
    }

    private static double number(String word) {
        try {
            return Double.parseDouble(word);
        } catch (NumberFormatException e) {
            return Double.NaN;
        }
    }
}
