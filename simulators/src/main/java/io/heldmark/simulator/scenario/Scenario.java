package io.heldmark.simulator.scenario;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An invented person, what they do, and the virtual cells that they do it on.
 *
 * @param name its name.
 * @param invented always true: no scenario holds a real person's data.
 * @param description what it shows.
 * @param seed everything random comes from it.
 * @param durationS length in seconds; absent: without end.
 * @param limbs the person's limbs.
 * @param efforts the efforts.
 * @param disturbances what else moves the force.
 * @param cells the virtual cells.
 */
public record Scenario(
        String name,
        boolean invented,
        String description,
        long seed,
        @Nullable Double durationS,
        List<LimbSpec> limbs,
        List<EffortSpec> efforts,
        List<DisturbanceSpec> disturbances,
        List<CellSpec> cells) {
    /** Names of the scenarios that come with the simulators. */
    public static final List<String> BUNDLED = List.of(
            "demo",
            "explosive",
            "ramps",
            "eccentric-lower",
            "faults",
            "eight-by-2k",
            "text-sender",
            "quiet",
            "session");

    /** Copies the lists. */
    public Scenario {
        limbs = List.copyOf(limbs);
        efforts = List.copyOf(efforts);
        disturbances = List.copyOf(disturbances);
        cells = List.copyOf(cells);
    }

    /**
     * Reads a scenario file.
     *
     * @throws ScenarioException if it cannot be read or breaks a rule; one line.
     */
    public static Scenario load(Path file) {
        try {
            return parse(Files.readString(file), file.toString());
        } catch (NoSuchFileException e) {
            throw new ScenarioException(file + ": no such file; bundled scenarios are " + String.join(", ", BUNDLED));
        } catch (IOException e) {
            throw new ScenarioException(
                    file + ": cannot be read as UTF-8 text (" + e.getClass().getSimpleName() + ")");
        }
    }

    /**
     * Reads a scenario.
     *
     * @param yaml its text.
     * @param name what to call it in messages.
     * @throws ScenarioException if it breaks a rule; one line.
     */
    public static Scenario parse(String yaml, String name) {
        return new ScenarioReader(yaml, name).read();
    }

    /**
     * Reads a scenario that comes with the simulators.
     *
     * @throws ScenarioException if there is none of this name.
     */
    public static Scenario bundled(String name) {
        if (!BUNDLED.contains(name)) {
            throw new ScenarioException(name + ": no such scenario; bundled are " + String.join(", ", BUNDLED));
        }
        try (InputStream in = Scenario.class.getResourceAsStream(name + ".yaml")) {
            if (in == null) {
                throw new IllegalStateException("bundled scenario is missing: name=" + name);
            }
            return parse(new String(in.readAllBytes(), StandardCharsets.UTF_8), name + ".yaml");
        } catch (IOException e) {
            throw new IllegalStateException("bundled scenario cannot be read: name=" + name, e);
        }
    }

    /** Returns this scenario with another seed. */
    public Scenario withSeed(long newSeed) {
        return new Scenario(name, invented, description, newSeed, durationS, limbs, efforts, disturbances, cells);
    }

    /** Returns this scenario with another length, in seconds. */
    public Scenario withDurationS(double newDurationS) {
        return new Scenario(name, invented, description, seed, newDurationS, limbs, efforts, disturbances, cells);
    }

    /**
     * Returns this scenario with one of its cells, which does what it does among the others.
     *
     * @throws ScenarioException if it has none of this name; one line.
     */
    public Scenario withOnly(String cell) {
        List<CellSpec> one = cells.stream().filter(c -> c.name().equals(cell)).toList();
        if (one.isEmpty()) {
            throw new ScenarioException(name + ": no cell " + cell + "; there are "
                    + String.join(", ", cells.stream().map(CellSpec::name).toList()));
        }
        return new Scenario(name, invented, description, seed, durationS, limbs, efforts, disturbances, one);
    }

    /**
     * Returns this scenario with cells that stream from power-up on, as if a station had told them to start: for uses that
     * only listen. A cell that answers commands waits for start otherwise, as the protocol asks.
     */
    public Scenario withAutostart() {
        return new Scenario(
                name,
                invented,
                description,
                seed,
                durationS,
                limbs,
                efforts,
                disturbances,
                cells.stream().map(CellSpec::withAutostart).toList());
    }

    /** Returns this scenario with cells that speak the GATT binding; see {@link CellSpec#withGatt}. */
    public Scenario withGatt() {
        return new Scenario(
                name,
                invented,
                description,
                seed,
                durationS,
                limbs,
                efforts,
                disturbances,
                cells.stream().map(CellSpec::withGatt).toList());
    }

    /** Returns the length in seconds; infinite where the scenario has no end. */
    public double lengthS() {
        return durationS == null ? Double.POSITIVE_INFINITY : durationS;
    }
}
