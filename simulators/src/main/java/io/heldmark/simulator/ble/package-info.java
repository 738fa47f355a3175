/**
 * Virtual cells on Bluetooth LE: as a peripheral that speaks HCI to a controller itself, and through BlueZ on a real adapter.
 */
@NullMarked
package io.heldmark.simulator.ble;

import org.jspecify.annotations.NullMarked;
