/** Benchmarks of the signal path; run by {@code daemon/benchmarks/run}, never asserted by a test. */
@NullMarked
package io.heldmark.benchmark;

import org.jspecify.annotations.NullMarked;
