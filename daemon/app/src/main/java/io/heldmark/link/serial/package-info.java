/** Serial ports, by jSerialComm. */
@NullMarked
package io.heldmark.link.serial;

import org.jspecify.annotations.NullMarked;
