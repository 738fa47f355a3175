/**
 * The inside of a virtual cell: converter, clock, packing into messages and answers to commands.
 */
@NullMarked
package io.heldmark.simulator.device;

import org.jspecify.annotations.NullMarked;
