/**
 * Random numbers and sines that come out the same everywhere: one seed, named streams, StrictMath only.
 */
@NullMarked
package io.heldmark.simulator.math;

import org.jspecify.annotations.NullMarked;
