/**
 * Shells that pace a virtual cell in real time over a pseudo-terminal or a TCP connection.
 */
@NullMarked
package io.heldmark.simulator.sender;

import org.jspecify.annotations.NullMarked;
