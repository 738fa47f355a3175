/**
 * The port through which bytes come in and commands go out. Adapters (serial, TCP, BLE, replay) live elsewhere.
 */
@NullMarked
package io.heldmark.link;

import org.jspecify.annotations.NullMarked;
