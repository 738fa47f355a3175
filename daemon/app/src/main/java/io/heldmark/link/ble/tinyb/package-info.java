/** Bluetooth LE through TinyB, a native library over BlueZ, where its natives exist. */
@NullMarked
package io.heldmark.link.ble.tinyb;

import org.jspecify.annotations.NullMarked;
