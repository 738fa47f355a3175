package io.heldmark.pipeline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(value = 30, unit = TimeUnit.SECONDS)
class InputQueueTest {
    private static final StationEvent MARK = new StationEvent.Marked("here", 5);

    /** Keeps what comes out as text. */
    private static class Taken implements InputQueue.Consumer {
        final List<String> all = Collections.synchronizedList(new ArrayList<>());

        @Override
        public void onChunk(
                int link, long arrivalNs, long receivedNs, byte[] bytes, int offset, int length, long lostBefore) {
            all.add("link " + link + " at " + arrivalNs + "/" + receivedNs + " " + new String(bytes, offset, length, US)
                    + (lostBefore > 0 ? " after " + lostBefore : ""));
        }

        @Override
        public void onEvent(StationEvent event, long receivedNs) {
            all.add("event at " + event.atNs() + "/" + receivedNs);
        }

        @Override
        public void onTask(Runnable task) {
            task.run();
        }
    }

    private static final java.nio.charset.Charset US = java.nio.charset.StandardCharsets.US_ASCII;

    private final InputQueue queue = new InputQueue(4, 2);
    private final Taken taken = new Taken();

    private boolean offer(int link, String text) {
        byte[] bytes = text.getBytes(US);
        return queue.offer(link, 1, 2, bytes, 0, bytes.length);
    }

    private boolean put(int link, String text) {
        byte[] bytes = text.getBytes(US);
        return queue.put(link, 1, 2, bytes, 0, bytes.length);
    }

    private void drain() {
        queue.close();
        while (queue.take(taken)) {
            assertTrue(taken.all.size() < 100);
        }
    }

    @Test
    void shouldGiveInputsInTheOrderInWhichTheyCame() {
        byte[] reused = "xabx".getBytes(US);
        assertTrue(queue.offer(0, 10, 11, reused, 1, 2));
        reused[1] = '!'; // the reader's buffer is the reader's again
        assertTrue(queue.offer(MARK, 6));
        assertTrue(queue.offer(() -> taken.all.add("task")));
        assertTrue(queue.offer(1, 12, 13, reused, 2, 1));
        drain();
        assertEquals(List.of("link 0 at 10/11 ab", "event at 5/6", "task", "link 1 at 12/13 b"), taken.all);
    }

    @Test
    void shouldTellHowManyBytesOfALinkDidNotFit() {
        for (int i = 0; i < 4; i++) {
            assertTrue(offer(0, "a"));
        }
        assertFalse(offer(0, "bbb"));
        assertFalse(offer(0, "cc"));
        assertFalse(offer(1, "d"));
        queue.take(taken);
        assertTrue(offer(0, "e"));
        queue.take(taken);
        assertTrue(offer(0, "f"));
        queue.take(taken);
        assertTrue(offer(1, "g"));
        drain();
        assertEquals(
                List.of("link 0 at 1/2 e after 5", "link 0 at 1/2 f", "link 1 at 1/2 g after 1"),
                taken.all.subList(4, 7));
        assertEquals(7, taken.all.size());
    }

    @Test
    void shouldRefuseRequestsWhereItIsFull() {
        for (int i = 0; i < 4; i++) {
            assertTrue(offer(0, "a"));
        }
        assertFalse(queue.offer(MARK, 6));
        assertFalse(queue.offer(() -> taken.all.add("task")));
        drain();
        assertEquals(4, taken.all.size());
    }

    /** The chunk that is being processed keeps its place: readers that go on meanwhile cannot write over it. */
    @Test
    void shouldKeepAChunkWhileItIsProcessed() {
        offer(0, "first");
        Taken during = new Taken() {
            @Override
            public void onChunk(int link, long a, long r, byte[] bytes, int offset, int length, long lost) {
                for (int i = 0; i < 3; i++) {
                    assertTrue(offer(0, "other"));
                }
                assertFalse(offer(0, "other"));
                super.onChunk(link, a, r, bytes, offset, length, lost);
            }
        };
        assertTrue(queue.take(during));
        assertEquals(List.of("link 0 at 1/2 first"), during.all);
    }

    @Test
    void shouldGoOnWhereAnInputCannotBeProcessed() {
        offer(0, "a");
        offer(0, "b");
        Taken faulty = new Taken() {
            @Override
            public void onChunk(int link, long a, long r, byte[] bytes, int offset, int length, long lost) {
                throw new IllegalStateException("broken");
            }
        };
        assertThrows(IllegalStateException.class, () -> queue.take(faulty));
        drain();
        assertEquals(List.of("link 0 at 1/2 b"), taken.all);
    }

    @Test
    void shouldWaitWithWhatMayNotBeLost() throws Exception {
        for (int i = 0; i < 4; i++) {
            assertTrue(put(0, "a"));
        }
        CountDownLatch begun = new CountDownLatch(1);
        CompletableFuture<Boolean> all = CompletableFuture.supplyAsync(() -> {
            begun.countDown();
            return put(0, "b") && queue.put(MARK, 6) && queue.put(() -> taken.all.add("task"));
        });
        begun.await();
        for (int i = 0; i < 7; i++) {
            assertTrue(queue.take(taken)); // waits for each, too
        }
        assertTrue(all.get());
        assertEquals(List.of("link 0 at 1/2 b", "event at 5/6", "task"), taken.all.subList(4, 7));
    }

    @Test
    void shouldTakeNothingMoreOnceClosedAndGiveWhatIsInside() throws Exception {
        for (int i = 0; i < 4; i++) {
            assertTrue(put(0, "a"));
        }
        CountDownLatch begun = new CountDownLatch(1);
        CompletableFuture<Boolean> waiting = CompletableFuture.supplyAsync(() -> {
            begun.countDown();
            return put(0, "late");
        });
        begun.await();
        queue.close();
        assertFalse(waiting.get(), "whoever waits is let go");
        assertFalse(offer(0, "b"));
        assertFalse(queue.put(MARK, 6));
        drain();
        assertEquals(4, taken.all.size());
    }

    @Test
    void shouldLetTheConsumerGoWhereItIsClosedEmpty() throws Exception {
        CompletableFuture<Boolean> consumer = CompletableFuture.supplyAsync(() -> queue.take(taken));
        queue.close();
        assertFalse(consumer.get());
    }
}
