/**
 * Raw recordings: an append-only pcapng file, crash-safe, and its replay as a link.
 */
@NullMarked
package io.heldmark.record;

import org.jspecify.annotations.NullMarked;
