/**
 * Bluetooth LE connections: a Gaugeline cell as GATT server, the station as client.
 *
 * <p>{@code GattCentral} is what the station needs of a Bluetooth stack; its two implementations are in {@code bluez} (BlueZ
 * over D-Bus) and {@code tinyb}. Nothing outside this package knows which one runs.
 */
@NullMarked
package io.heldmark.link.ble;

import org.jspecify.annotations.NullMarked;
