/**
 * Builds the stages and owns threads and counters; reading it is reading the data flow.
 */
@NullMarked
package io.heldmark.pipeline;

import org.jspecify.annotations.NullMarked;
