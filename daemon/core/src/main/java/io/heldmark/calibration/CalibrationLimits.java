package io.heldmark.calibration;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Limits that the figures of each load are compared with, in per cent, sizes without sign.
 *
 * <p>They are the user's; the defaults are those that ISO 376:2011 has for its class 2, by a secondary source. To keep them says that
 * the figures are as small as that and nothing else: no conformity with that standard or any other follows.
 *
 * @param percent by figure: {@code repeatability}, {@code reproducibility}, {@code interpolation}, {@code zero},
 *     {@code reversibility}.
 */
public record CalibrationLimits(Map<String, Double> percent) {
    /** The figures that have limits, in the order in which they are shown. */
    public static final List<String> FIGURES =
            List.of("repeatability", "reproducibility", "interpolation", "zero", "reversibility");

    /** Where nobody says. */
    public static final CalibrationLimits DEFAULTS = new CalibrationLimits(Map.of(
            "repeatability", 0.2, "reproducibility", 0.4, "interpolation", 0.2, "zero", 0.1, "reversibility", 0.5));

    /** Copies the map in order and rejects what is no limit. */
    public CalibrationLimits {
        Map<String, Double> ordered = new LinkedHashMap<>();
        for (String figure : FIGURES) {
            Double limit = percent.get(figure);
            if (limit == null || !(limit > 0 && limit <= 100)) {
                throw new IllegalArgumentException("a limit is over 0 to 100 %: " + figure + "=" + limit);
            }
            ordered.put(figure, limit);
        }
        percent = Collections.unmodifiableMap(ordered);
    }

    /** Returns the same with other limits for some figures. */
    public CalibrationLimits with(Map<String, Double> others) {
        Map<String, Double> all = new LinkedHashMap<>(percent);
        for (Map.Entry<String, Double> other : others.entrySet()) {
            if (!FIGURES.contains(other.getKey())) {
                throw new IllegalArgumentException(
                        "a limit is for one of " + String.join(", ", FIGURES) + ", not " + other.getKey());
            }
            all.put(other.getKey(), other.getValue());
        }
        return new CalibrationLimits(all);
    }

    /** Returns a figure of a load by its name. */
    public static Percent figure(LoadResult load, String name) {
        return switch (name) {
            case "repeatability" -> load.repeatability();
            case "reproducibility" -> load.reproducibility();
            case "interpolation" -> load.interpolationError();
            case "zero" -> load.zeroError();
            case "reversibility" -> load.reversibility();
            default -> throw new IllegalArgumentException("no such figure: " + name);
        };
    }

    /** Tells whether a figure of a load is beyond its limit; a figure that is not known is not. */
    public boolean beyond(LoadResult load, String name) {
        Percent value = figure(load, name);
        return value.known() && Math.abs(value.value()) > percent.getOrDefault(name, Double.MAX_VALUE);
    }

    /** Returns a sentence for every figure that is beyond its limit. */
    public List<String> sentences(CalibrationResult result) {
        List<String> sentences = new ArrayList<>();
        for (LoadResult load : result.loads()) {
            for (String name : FIGURES) {
                if (beyond(load, name)) {
                    sentences.add(String.format(
                            Locale.ROOT,
                            "at %s: %s %.3g %% is beyond the limit of %s %%",
                            Plausibility.newtons(load.loadN()),
                            name.matches("interpolation|zero") ? name + " error" : name,
                            figure(load, name).value(),
                            percent.get(name)));
                }
            }
        }
        return sentences;
    }
}
