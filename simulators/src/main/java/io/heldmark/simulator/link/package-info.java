/**
 * What lies between a virtual cell and the reader: when bytes arrive, by kind of link.
 */
@NullMarked
package io.heldmark.simulator.link;

import org.jspecify.annotations.NullMarked;
