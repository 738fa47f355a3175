/**
 * The hot path from counts to newtons, and the session zero.
 */
@NullMarked
package io.heldmark.calibrate;

import org.jspecify.annotations.NullMarked;
