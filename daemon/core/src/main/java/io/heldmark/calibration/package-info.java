/**
 * Calibration of a cell against known loads: fitting and its statistics. The hot path from counts to newtons is package
 * {@code calibrate}.
 */
@NullMarked
package io.heldmark.calibration;

import org.jspecify.annotations.NullMarked;
