/**
 * The program that runs a scenario.
 */
@NullMarked
package io.heldmark.simulator.cli;

import org.jspecify.annotations.NullMarked;
