/**
 * What really happened: contractions, clock and damage, as a tester may compare them with what a station found.
 */
@NullMarked
package io.heldmark.simulator.truth;

import org.jspecify.annotations.NullMarked;
