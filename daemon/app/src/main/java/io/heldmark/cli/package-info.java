/** The program: one class per command, and what commands share. */
@NullMarked
package io.heldmark.cli;

import org.jspecify.annotations.NullMarked;
