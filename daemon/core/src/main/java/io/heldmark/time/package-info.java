/**
 * The only callers of the system's clocks. Everything else takes time as an argument.
 */
@NullMarked
package io.heldmark.time;

import org.jspecify.annotations.NullMarked;
