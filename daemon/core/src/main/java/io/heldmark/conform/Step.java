package io.heldmark.conform;

import java.util.function.LongConsumer;
import java.util.function.LongPredicate;

/**
 * One step of a run.
 *
 * @param what what it does, for people who watch.
 * @param begin called once, with the time.
 * @param done asked with the time until it says yes.
 */
record Step(String what, LongConsumer begin, LongPredicate done) {}
