package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.core.JsonPointer;
import io.heldmark.simulator.scenario.ScenarioSchema.Finding;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** The rules that tie the keys of a scenario to each other and that a schema cannot say. */
final class ScenarioRules {
    /** Longest frame of the byte stream before stuffing, type and check included. */
    private static final int FRAME_LIMIT_BYTES = 512;

    /** Type, header of the samples message and check. */
    private static final int FRAME_OVERHEAD_BYTES = 11;

    /** Longest time from the first to the last sample of a message, in seconds. */
    private static final double LONGEST_MESSAGE_S = 0.05;

    /** Longest value at the MTU that most radios agree on, 247. */
    private static final int LONGEST_VALUE_BYTES = 244;

    /** Longest line of the text binding. */
    private static final int LINE_LIMIT_BYTES = 200;

    private final Scenario scenario;
    private final Set<String> limbs = new HashSet<>();
    private final List<Finding> findings = new ArrayList<>();

    private ScenarioRules(Scenario scenario) {
        this.scenario = scenario;
    }

    /** Returns all that is wrong, in the order of the file. */
    static List<Finding> findings(Scenario scenario) {
        ScenarioRules rules = new ScenarioRules(scenario);
        rules.checkLimbs();
        rules.checkUse();
        rules.checkCells();
        return rules.findings;
    }

    private void checkLimbs() {
        for (int i = 0; i < scenario.limbs().size(); i++) {
            String name = scenario.limbs().get(i).name();
            if (!limbs.add(name)) {
                add("another limb is called " + name, "limbs", i, "name");
            }
        }
    }

    private void checkUse() {
        for (int i = 0; i < scenario.efforts().size(); i++) {
            checkNames(scenario.efforts().get(i).limbs(), "efforts", i, "limbs");
        }
        for (int i = 0; i < scenario.disturbances().size(); i++) {
            checkNames(scenario.disturbances().get(i).limbs(), "disturbances", i, "limbs");
        }
    }

    private void checkCells() {
        Set<String> names = new HashSet<>();
        for (int i = 0; i < scenario.cells().size(); i++) {
            CellSpec cell = scenario.cells().get(i);
            if (!names.add(cell.name())) {
                add("another cell is called " + cell.name(), "cells", i, "name");
            }
            for (int c = 0; c < cell.channels().size(); c++) {
                checkNames(List.of(cell.channels().get(c).limb()), "cells", i, "channels", c, "limb");
                checkDate(cell.channels().get(c).calibration(), i, c);
            }
            checkPacking(cell, i);
            checkGatt(cell, i);
            checkDescribe(cell, i);
            checkSpeed(cell, i);
            checkRange(cell, i);
        }
    }

    /** The radio checks its packets: a value arrives whole or not at all, and only on a link with connection events. */
    private void checkGatt(CellSpec cell, int index) {
        if (cell.binding() != CellSpec.Binding.GATT) {
            return;
        }
        if (harms(cell.faults().corruption())) {
            add("corruption cannot happen to GATT values; use loss", "cells", index, "faults");
        }
        int value = 8 + (cell.adc().bits() > 24 ? 4 : 3) * cell.channels().size() * cell.samplesPerFrame();
        if (value > LONGEST_VALUE_BYTES) {
            add(
                    value + " bytes a message do not fit one value; allowed: " + LONGEST_VALUE_BYTES,
                    "cells",
                    index,
                    "samplesPerFrame");
        }
    }

    private static boolean harms(FaultSpec.OnFrames fault) {
        return fault.probability() > 0 || !fault.atS().isEmpty();
    }

    private void checkPacking(CellSpec cell, int index) {
        if (cell.binding() == CellSpec.Binding.TEXT && cell.samplesPerFrame() != 1) {
            add(
                    cell.samplesPerFrame() + " is not allowed; a text line holds 1 sample",
                    "cells",
                    index,
                    "samplesPerFrame");
        }
        boolean holds31 =
                cell.binding() != CellSpec.Binding.TEXT && cell.channels().size() == 1;
        if (cell.nonconforming() == Nonconformity.SAMPLES_SPAN && !holds31) {
            add(
                    "samples-span is not allowed; its messages of 31 samples need one channel and bytes or gatt",
                    "cells",
                    index,
                    "nonconforming");
        }
        int inTime = 1 + (int) (LONGEST_MESSAGE_S * cell.sampleRateHz());
        if (cell.samplesPerFrame() > inTime) {
            add(
                    cell.samplesPerFrame() + " is not allowed; the protocol allows 50 ms a message, at "
                            + cell.sampleRateHz() + " Hz at most " + inTime,
                    "cells",
                    index,
                    "samplesPerFrame");
        }
        int width = cell.adc().bits() > 24 ? 4 : 3;
        int bytes =
                FRAME_OVERHEAD_BYTES + cell.samplesPerFrame() * cell.channels().size() * width;
        if (bytes > FRAME_LIMIT_BYTES) {
            int most = (FRAME_LIMIT_BYTES - FRAME_OVERHEAD_BYTES)
                    / (cell.channels().size() * width);
            add(
                    cell.samplesPerFrame() + " is not allowed; with "
                            + cell.channels().size() + " channels a message holds at most " + most,
                    "cells",
                    index,
                    "samplesPerFrame");
        }
    }

    private void checkDate(CellSpec.@Nullable Calibration calibration, int cell, int channel) {
        if (calibration == null || calibration.date() == 0) {
            return;
        }
        int month = calibration.date() / 100 % 100;
        int day = calibration.date() % 100;
        if (calibration.date() < 1900_01_01 || month < 1 || month > 12 || day < 1 || day > 31) {
            String text = calibration.date() + " is not allowed; allowed: 0, or a date as the number YYYYMMDD";
            add(text, "cells", cell, "channels", channel, "calibration", "date");
        }
    }

    /** What a cell says of itself fits one frame, or in text its first line fits one line. */
    private void checkDescribe(CellSpec cell, int index) {
        int texts = cell.deviceIdentity().length()
                + cell.model().length()
                + cell.firmware().length();
        int rates = cell.supportedRatesHz().size();
        boolean text = cell.binding() == CellSpec.Binding.TEXT;
        int bytes;
        if (text) {
            // D,1.0,id=,tickhz=1000000000,ratemhz=4000000,model=,firmware=,caps=63,rates= and a check; 8 for a rate.
            bytes = 82 + texts + 8 * rates;
        } else {
            // Type, check, header; tag and length of three texts and the rates; 16 and a name, 19 for a calibration.
            bytes = 3 + 12 + 8 + texts + 4 * rates;
            for (CellSpec.ChannelSpec channel : cell.channels()) {
                bytes += 16 + channel.name().length() + (channel.calibration() == null ? 0 : 19);
            }
        }
        int limit = text ? LINE_LIMIT_BYTES : FRAME_LIMIT_BYTES;
        if (bytes > limit) {
            add("its names and rates make a describe of " + bytes + " bytes; allowed: " + limit, "cells", index);
        }
    }

    /** A link that is slower than its cell would fall behind without end. */
    private void checkSpeed(CellSpec cell, int index) {
        double framesPerS = cell.sampleRateHz() / cell.samplesPerFrame();
        CellSpec.LinkTiming link = cell.link();
        if (link.kind() == CellSpec.LinkKind.INTERVAL) {
            double most = link.framesPerInterval() / link.intervalS() * (1 - link.retryProbability());
            if (framesPerS > 0.95 * most) {
                add(
                        "the link carries at most " + (int) (0.95 * most) + " messages/s and the cell sends "
                                + (int) framesPerS,
                        "cells",
                        index,
                        "link");
            }
        }
        if (link.kind() == CellSpec.LinkKind.SERIAL) {
            int width =
                    cell.binding() == CellSpec.Binding.TEXT ? 12 : cell.adc().bits() > 24 ? 4 : 3;
            int overhead = cell.binding() == CellSpec.Binding.TEXT ? 28 : FRAME_OVERHEAD_BYTES + 3;
            double bits = 10 * framesPerS * (overhead + width * cell.channels().size() * cell.samplesPerFrame());
            if (bits > 0.9 * link.baud()) {
                add(
                        link.baud() + " bit/s is too slow; the cell sends about " + (long) bits + " bit/s",
                        "cells",
                        index,
                        "link");
            }
        }
    }

    private void checkRange(CellSpec cell, int index) {
        double fullScale = StrictMath.pow(2, cell.adc().bits() - 1);
        if (!(Math.abs((double) cell.adc().offsetCounts()) < fullScale)) {
            add(
                    cell.adc().offsetCounts() + " is not allowed; " + cell.adc().bits() + " bits reach from "
                            + (long) -fullScale + " to " + (long) (fullScale - 1),
                    "cells",
                    index,
                    "adc",
                    "offsetCounts");
        }
    }

    private void checkNames(List<String> names, Object... place) {
        for (String name : names) {
            if (!limbs.contains(name)) {
                List<String> known =
                        scenario.limbs().stream().map(LimbSpec::name).toList();
                add("no limb is called " + name + "; limbs are " + String.join(", ", known), place);
            }
        }
    }

    private void add(String text, Object... place) {
        JsonPointer pointer = JsonPointer.empty();
        for (Object part : place) {
            pointer = part instanceof Integer index
                    ? pointer.appendIndex(index)
                    : pointer.appendProperty(part.toString());
        }
        findings.add(new Finding(pointer, text));
    }
}
