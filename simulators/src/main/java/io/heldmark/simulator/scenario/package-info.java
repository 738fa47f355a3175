/**
 * Scenarios as data: read from YAML, checked against the schema, with one clear line for whatever is wrong.
 */
@NullMarked
package io.heldmark.simulator.scenario;

import org.jspecify.annotations.NullMarked;
