package io.heldmark.pipeline;

import io.heldmark.model.Limb;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TrialConditions;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What was said of the trials of a session, and when.
 *
 * <p>A trial has what had been said when it began: what is said while a person pulls holds from the next effort on. A target
 * that is shown is a force to hold, unless another one is said.
 *
 * <p>The newest {@value #KEPT} changes are kept; a trial that began before them has the oldest of these.
 */
final class TrialLog {
    private static final int KEPT = 256;

    private final List<Entry> entries = new ArrayList<>(List.of(new Entry(Long.MIN_VALUE, SaidConditions.NONE, null)));

    private record Entry(
            long fromNs, SaidConditions said, @Nullable Target target) {
        TestConditions of(Limb limb) {
            TestConditions conditions = said.of(limb);
            Target band = target;
            if (band == null || !(band.forceN() > 0) || conditions.targetForceN() > 0) {
                return conditions;
            }
            return conditions.toBuilder().targetForceN(band.forceN()).build();
        }
    }

    /** Takes what is said from now on. */
    void onSaid(SaidConditions said, long atNs) {
        add(new Entry(atNs, said, target()));
    }

    /** Takes the target that is shown from now on; absent: none. */
    void onTarget(@Nullable Target target, long atNs) {
        add(new Entry(atNs, said(), target));
    }

    /** Returns what is said now. */
    SaidConditions said() {
        return newest().said();
    }

    /** Returns the target that is shown now; absent where none is. */
    @Nullable Target target() {
        return newest().target();
    }

    /** Returns what holds for the trials of a limb: what was said beforehand, and where that is silent, this. */
    TrialConditions of(Limb limb, TrialConditions beforehand) {
        return onsetNs -> beforehand.at(onsetNs).orElse(at(onsetNs).of(limb));
    }

    private void add(Entry entry) {
        entries.add(entry);
        if (entries.size() > KEPT) {
            entries.remove(0);
        }
    }

    private Entry newest() {
        return entries.get(entries.size() - 1);
    }

    private Entry at(long onsetNs) {
        int i = entries.size() - 1;
        while (i > 0 && entries.get(i).fromNs() > onsetNs) {
            i--;
        }
        return entries.get(i);
    }
}
