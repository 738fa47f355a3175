/**
 * Papers as PDF. The libraries for that are large: nothing else of the station uses them, and their classes are loaded when the
 * first paper is made.
 */
@NullMarked
package io.heldmark.export;

import org.jspecify.annotations.NullMarked;
