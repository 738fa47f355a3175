/** What one cell's signal looks like to whoever wires it: noise, spectrum, drift, arrivals, and what to do about them. */
@NullMarked
package io.heldmark.cell;

import org.jspecify.annotations.NullMarked;
