/**
 * What lies between a virtual cell and the reader: when bytes arrive, and what is done to them on the way.
 */
@NullMarked
package io.heldmark.simulator.link;

import org.jspecify.annotations.NullMarked;
