/**
 * Device ticks to station time, each time with its uncertainty.
 */
@NullMarked
package io.heldmark.align;

import org.jspecify.annotations.NullMarked;
