/** Traces that others recorded: text files of any sensor to batches of newtons, gap by gap. */
@NullMarked
package io.heldmark.importer;

import org.jspecify.annotations.NullMarked;
