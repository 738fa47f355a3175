/**
 * Virtual load cells with known truth. {@link io.heldmark.simulator.VirtualCell} is the way in: a generator of bytes in
 * virtual time. Everything comes from a scenario and its seed, and the same seed gives the same bytes and the same truth.
 * Depends on the protocol only, never on the station: it is the counterpart that the station is tested against.
 */
@NullMarked
package io.heldmark.simulator;

import org.jspecify.annotations.NullMarked;
