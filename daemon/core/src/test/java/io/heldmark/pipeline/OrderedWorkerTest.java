package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.reflect.Method;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class OrderedWorkerTest {
    @Test
    void shouldDoEverythingInOrderOnAThreadOfItsOwn() {
        List<Integer> done = new ArrayList<>();
        List<Thread> threads = new ArrayList<>();
        try (OrderedWorker worker = new OrderedWorker("test")) {
            for (int i = 0; i < 100 * OrderedWorker.MOST_WAITING; i++) {
                int number = i;
                worker.execute(() -> {
                    done.add(number);
                    threads.add(Thread.currentThread());
                });
            }
            worker.drain();
            assertEquals(
                    IntStream.range(0, 100 * OrderedWorker.MOST_WAITING).boxed().toList(), done);
            threads.forEach(thread -> assertNotSame(Thread.currentThread(), thread));
        }
    }

    @Test
    void shouldDoAtOnceWhatATaskHandsOver() {
        List<String> done = new ArrayList<>();
        try (OrderedWorker worker = new OrderedWorker("test")) {
            worker.execute(() -> {
                worker.execute(() -> done.add("inner"));
                done.add("outer");
            });
            worker.execute(() -> done.add("next"));
            worker.drain();
        }
        assertEquals(List.of("inner", "outer", "next"), done);
    }

    @Test
    void shouldDoNothingAfterAFailureAndTellIt() {
        List<String> done = new ArrayList<>();
        IllegalStateException failure = new IllegalStateException("on purpose");
        try (OrderedWorker worker = new OrderedWorker("test")) {
            worker.execute(() -> {
                throw failure;
            });
            worker.execute(() -> done.add("after"));
            assertSame(failure, assertThrows(IllegalStateException.class, worker::drain));
        }
        assertEquals(List.of(), done);
    }

    @Test
    void shouldHandOnEverythingThatIsToldButTheTrace() {
        Set<String> handedOn = Arrays.stream(WorkerListener.class.getDeclaredMethods())
                .map(Method::getName)
                .collect(Collectors.toSet());
        for (Method told : StationListener.class.getMethods()) {
            boolean ofTheTrace = List.of("onSamples", "onCounts", "onLevels").contains(told.getName());
            assertTrue(ofTheTrace || handedOn.contains(told.getName()), told.getName());
        }
    }
}
