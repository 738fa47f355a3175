package io.heldmark.simulator.force;

import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.scenario.Range;
import io.heldmark.simulator.scenario.RepeatSpec;
import org.jspecify.annotations.Nullable;

/** The starts of one entry of a scenario, in order: once, or again and again. */
final class EventSource {
    private final SeededRandom random;
    private final @Nullable RepeatSpec repeat;
    private double nextS;
    private long index;

    EventSource(Range atS, @Nullable RepeatSpec repeat, SeededRandom random) {
        this.random = random;
        this.repeat = repeat;
        this.nextS = atS.draw(random.split("first"));
    }

    /** Returns the next start, in seconds; infinite where there is none. */
    double nextS() {
        return nextS;
    }

    /** Returns the stream of the next occurrence. */
    SeededRandom stream() {
        return random.split("occurrence", index);
    }

    /**
     * Goes on to the next occurrence.
     *
     * @param startedS when this one really started; the next is counted from there.
     */
    void advance(double startedS) {
        index++;
        nextS = Double.POSITIVE_INFINITY;
        if (repeat != null && (repeat.count() == 0 || index < repeat.count())) {
            nextS = startedS + repeat.everyS().draw(random.split("every", index));
        }
    }
}
