/**
 * HTTP and WebSocket: one {@code Routes} class per resource of {@code docs/live-protocol.md}, the checks of who may ask, and
 * the one thread that sends to viewers.
 */
@NullMarked
package io.heldmark.web;

import org.jspecify.annotations.NullMarked;
