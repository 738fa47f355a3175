package io.heldmark.simulator.ble;

import io.heldmark.simulator.scenario.CellSpec;
import java.util.function.IntSupplier;
import java.util.function.Supplier;

/** What a virtual cell shows of itself in the services beside its own. */
record ShownCell(CellSpec cell, Supplier<byte[]> described, IntSupplier charge) implements AttributeTable.Shown {
    @Override
    public String name() {
        return cell.name();
    }

    @Override
    public String model() {
        return cell.model();
    }

    @Override
    public String firmware() {
        return cell.firmware();
    }

    @Override
    public int batteryPercent() {
        return charge.getAsInt();
    }

    @Override
    public byte[] describe() {
        return described.get();
    }
}
