package io.heldmark.conform;

import io.heldmark.link.Link.Binding;
import io.heldmark.simulator.VirtualCell;
import io.heldmark.simulator.link.GattValues;
import io.heldmark.simulator.scenario.Scenario;

/** A conformance run against a virtual cell, in virtual time. */
final class VirtualRun {
    private static final long STEP_NS = 5_000_000;
    private static final long LONGEST_NS = 120_000_000_000L;

    private VirtualRun() {}

    /** Returns what a run finds of the first cell of a scenario; the link is up from power-up on. */
    static Report of(Scenario scenario, Binding binding, Options options) {
        VirtualCell cell = new VirtualCell(scenario, 0);
        boolean gatt = binding == Binding.GATT;
        long[] now = {0};
        Conformance run = new Conformance(binding, options, (bytes, offset, length) -> {
            cell.receive(bytes, offset, length, Math.max(now[0], cell.dueNs()));
            return true;
        });
        run.onUp(0);
        while (!run.isOver() && now[0] < LONGEST_NS) {
            now[0] += STEP_NS;
            while (cell.nextDueNs() <= now[0] && cell.advance()) {
                long dueNs = cell.dueNs();
                if (gatt) {
                    GattValues.each(cell.bytes(), cell.length(), (b, at, n) -> run.onBytes(b, at, n, dueNs));
                } else {
                    run.onBytes(cell.bytes(), 0, cell.length(), dueNs);
                }
            }
            run.onTime(now[0]);
        }
        return run.report();
    }
}
