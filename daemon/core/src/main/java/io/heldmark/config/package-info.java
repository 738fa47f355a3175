/**
 * Every setting with its unit, default and allowed range, and the one error that refuses a bad one.
 */
@NullMarked
package io.heldmark.config;

import org.jspecify.annotations.NullMarked;
