/**
 * The force that an invented person puts on a cell: a function of time that is known exactly, without noise.
 */
@NullMarked
package io.heldmark.simulator.force;

import org.jspecify.annotations.NullMarked;
