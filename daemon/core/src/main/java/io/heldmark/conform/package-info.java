/**
 * The rules of the protocol, checked against a live sender: what is sent to it, when, and what its answers prove.
 *
 * <p>Knows links and the codec and nothing of stations: a sender is judged by the bytes alone. Time only enters as an
 * argument, so that a check of half a minute takes a fraction of a second against a virtual cell.
 */
@NullMarked
package io.heldmark.conform;

import org.jspecify.annotations.NullMarked;
