/** Bluetooth LE through BlueZ's D-Bus interface (org.bluez), with notifications over a socket of their own (AcquireNotify). */
@NullMarked
package io.heldmark.link.ble.bluez;

import org.jspecify.annotations.NullMarked;
