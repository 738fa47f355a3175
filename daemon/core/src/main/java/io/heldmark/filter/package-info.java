/**
 * Digital filters: causal ones with their declared delay for the live trace, coefficients by published design.
 */
@NullMarked
package io.heldmark.filter;

import org.jspecify.annotations.NullMarked;
