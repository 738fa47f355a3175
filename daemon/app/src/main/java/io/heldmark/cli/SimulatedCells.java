package io.heldmark.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import java.io.BufferedReader;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A child process that opens pseudo-terminals and sends as real cells do.
 *
 * <p>It ends when its standard input ends, so that it never outlives this process, however this one ends.
 */
final class SimulatedCells implements AutoCloseable {
    private static final int END_WAIT_S = 3;

    private final Process process;
    private final Map<String, String> links;

    private SimulatedCells(Process process, Map<String, String> links) {
        this.process = process;
        this.links = links;
    }

    /**
     * Starts the cells of a scenario and waits until their links are there.
     *
     * @param scenario name of a packed scenario, or a file.
     * @param cells names of the cells to wait for.
     * @param more further arguments of the simulator.
     * @throws BadInputException if the simulator ends before.
     */
    static SimulatedCells start(String scenario, List<String> cells, List<String> more) throws IOException {
        List<String> arguments = new ArrayList<>(List.of(scenario, "--link", "pty", "--exit-with-stdin"));
        arguments.addAll(more);
        Process process = new ProcessBuilder(SimulatorProcess.command(arguments))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        BufferedReader lines = process.inputReader();
        Map<String, String> links = new LinkedHashMap<>();
        while (!links.keySet().containsAll(cells)) {
            String line = lines.readLine();
            if (line == null) {
                process.destroy();
                throw new BadInputException("the simulated cells did not start; the lines above say why");
            }
            if (line.startsWith("{")) {
                read(line, links);
            }
        }
        drain(lines);
        return new SimulatedCells(process, links);
    }

    /** Returns the link address of a cell. */
    String link(String cell) {
        String link = links.get(cell);
        if (link == null) {
            throw new IllegalArgumentException("no such cell: cell=" + cell);
        }
        return link;
    }

    /** Ends the child. */
    @Override
    public void close() {
        ChildEnd.byClosingItsInput(process, END_WAIT_S);
    }

    private static void read(String line, Map<String, String> links) {
        try {
            JsonNode node = JsonLines.MAPPER.readTree(line);
            if (node.path("cell").isTextual() && node.path("link").isTextual()) {
                links.put(node.get("cell").asText(), node.get("link").asText());
            }
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("the simulator printed what is not JSON: " + line, e);
        }
    }

    /** Reads on, since a child whose output nobody reads would stop. */
    private static void drain(BufferedReader lines) {
        Thread thread = new Thread(
                () -> {
                    try {
                        while (lines.readLine() != null) {
                            Thread.onSpinWait();
                        }
                    } catch (IOException e) {
                        // The child is gone; its links say so.
                    }
                },
                "simulator-output");
        thread.setDaemon(true);
        thread.start();
    }
}
