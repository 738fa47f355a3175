/**
 * Bytes of one link to frames of counts: binding found, ticks unwrapped, every loss counted and marked.
 */
@NullMarked
package io.heldmark.decode;

import org.jspecify.annotations.NullMarked;
