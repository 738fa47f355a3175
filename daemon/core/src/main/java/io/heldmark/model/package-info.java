/**
 * Values that every stage shares; no logic beyond checking their own shape, and no import of any other package of ours.
 */
@NullMarked
package io.heldmark.model;

import org.jspecify.annotations.NullMarked;
