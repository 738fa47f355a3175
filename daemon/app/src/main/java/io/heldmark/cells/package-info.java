/**
 * Calibrating a cell: the guided procedure, the saved versions of a cell, and what is written of a calibration (JSON,
 * certificate, drawing). All numbers come from {@code io.heldmark.calibration}; nothing here knows HTTP.
 */
@NullMarked
package io.heldmark.cells;

import org.jspecify.annotations.NullMarked;
