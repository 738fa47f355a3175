/** TCP connections; the station is the client. */
@NullMarked
package io.heldmark.link.tcp;

import org.jspecify.annotations.NullMarked;
