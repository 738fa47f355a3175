/**
 * What goes wrong on a cell and its link: when, how much, and a note of it for the truth.
 */
@NullMarked
package io.heldmark.simulator.fault;

import org.jspecify.annotations.NullMarked;
