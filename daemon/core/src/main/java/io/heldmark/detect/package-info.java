/**
 * Contraction windows, found live, one state machine per channel.
 */
@NullMarked
package io.heldmark.detect;

import org.jspecify.annotations.NullMarked;
