/**
 * What links over a stream of bytes have in common: a reader thread that stamps arrivals, reconnecting with back-off, and
 * a bounded hand-off for what is sent. Serial ports and TCP connections are one {@code Connector} each.
 */
@NullMarked
package io.heldmark.link.stream;

import org.jspecify.annotations.NullMarked;
