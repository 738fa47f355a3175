/**
 * Bounded fan-out of the live trace to any number of viewers, none of which can slow the acquisition.
 */
@NullMarked
package io.heldmark.live;

import org.jspecify.annotations.NullMarked;
