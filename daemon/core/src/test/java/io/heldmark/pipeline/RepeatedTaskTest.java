package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.LongSupplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(value = 30, unit = TimeUnit.SECONDS)
class RepeatedTaskTest {
    @Test
    void shouldGoOnAfterFaultsOfEveryKindAndCountThem() throws Exception {
        CountDownLatch runs = new CountDownLatch(5);
        AtomicInteger faults = new AtomicInteger();
        LongSupplier task = () -> {
            runs.countDown();
            if (runs.getCount() == 4) {
                throw new IllegalStateException("broken");
            } else if (runs.getCount() == 3) {
                throw new AssertionError("broken beyond repair");
            }
            return 1;
        };
        try (RepeatedTask repeated = new RepeatedTask("test-repeated", task, faults::incrementAndGet)) {
            repeated.start();
            runs.await();
        }
        assertEquals(2, faults.get());
    }

    @Test
    void shouldRunOnADaemonThreadOfItsName() throws Exception {
        AtomicReference<Thread> thread = new AtomicReference<>();
        CountDownLatch ran = new CountDownLatch(1);
        LongSupplier task = () -> {
            thread.set(Thread.currentThread());
            ran.countDown();
            return Long.MAX_VALUE; // closing does not wait for it
        };
        try (RepeatedTask repeated = new RepeatedTask("test-repeated", task, () -> {})) {
            repeated.start();
            ran.await();
        }
        assertEquals("test-repeated", thread.get().getName());
        assertTrue(thread.get().isDaemon());
        thread.get().join(); // ends with the task
    }
}
