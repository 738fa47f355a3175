package io.heldmark.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A Java program of this build as a process of its own. */
public final class Child implements AutoCloseable {
    private static final long LIMIT_S = 180;

    private final Process process;
    private final List<String> out = new ArrayList<>();
    private final List<String> err = new ArrayList<>();
    private final List<Thread> readers = new ArrayList<>();

    private Child(Process process) {
        this.process = process;
        readers.add(read(process.inputReader(StandardCharsets.UTF_8), out));
        readers.add(
                read(new BufferedReader(new InputStreamReader(process.getErrorStream(), StandardCharsets.UTF_8)), err));
    }

    /** Starts a class with a main method in a folder. */
    public static Child start(String mainClass, Path folder, List<String> arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-Xmx192m",
                "-cp",
                System.getProperty("java.class.path"),
                mainClass));
        command.addAll(arguments);
        ProcessBuilder builder = new ProcessBuilder(command).directory(folder.toFile());
        // No test touches the Bluetooth of the machine it runs on, or depends on there being any.
        builder.environment().put("DBUS_SYSTEM_BUS_ADDRESS", "unix:path=" + folder.resolve("no-bus"));
        return new Child(builder.start());
    }

    /** Starts {@code heldmark}. */
    public static Child heldmark(Path folder, List<String> arguments) throws IOException {
        return start(Main.class.getName(), folder, arguments);
    }

    /** Waits for a line on the standard output that begins so, and returns what follows. */
    public String awaitLine(String begin) throws InterruptedException {
        for (int i = 0; i < LIMIT_S * 20; i++) {
            for (String line : out()) {
                if (line.startsWith(begin)) {
                    return line.substring(begin.length());
                }
            }
            if (!process.isAlive() && i > 20) {
                break;
            }
            Thread.sleep(50);
        }
        throw new AssertionError("waited in vain for '" + begin + "'; out=" + out() + " err=" + err());
    }

    /** Waits for the end and returns the exit code. */
    public int awaitEnd() throws InterruptedException {
        if (!process.waitFor(LIMIT_S, TimeUnit.SECONDS)) {
            process.destroyForcibly();
            throw new AssertionError("did not end; out=" + out() + " err=" + err());
        }
        for (Thread reader : readers) {
            reader.join();
        }
        return process.exitValue();
    }

    /** Asks the process to end, as Ctrl-C or the system does, and returns its exit code. */
    public int terminate() throws InterruptedException {
        process.destroy();
        return awaitEnd();
    }

    /** Kills the process outright. */
    public void kill() throws InterruptedException {
        process.destroyForcibly();
        awaitEnd();
    }

    /** Returns the standard output so far, by lines. */
    public List<String> out() {
        synchronized (out) {
            return List.copyOf(out);
        }
    }

    /** Returns the standard error so far, by lines. */
    public List<String> err() {
        synchronized (err) {
            return List.copyOf(err);
        }
    }

    @Override
    public void close() {
        process.destroy();
        try {
            if (!process.waitFor(10, TimeUnit.SECONDS)) {
                process.destroyForcibly();
            }
        } catch (InterruptedException e) {
            process.destroyForcibly();
        }
    }

    private static Thread read(BufferedReader from, List<String> into) {
        Thread thread = new Thread(() -> {
            try {
                String line;
                while ((line = from.readLine()) != null) {
                    synchronized (into) {
                        into.add(line);
                    }
                }
            } catch (IOException e) {
                // The process is gone.
            }
        });
        thread.setDaemon(true);
        thread.start();
        return thread;
    }
}
