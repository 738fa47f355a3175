/**
 * One class per metric and one registry; each number with its unit, its uncertainty or the reason why it is missing.
 */
@NullMarked
package io.heldmark.metric;

import org.jspecify.annotations.NullMarked;
