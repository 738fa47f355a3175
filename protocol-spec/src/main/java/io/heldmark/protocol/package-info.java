/**
 * The Gaugeline protocol, version 1: messages, the three bindings (byte stream, text lines, BLE GATT) and their
 * streaming codecs. The specification is {@code protocol-spec/gaugeline-v1.md}; this package has no third-party
 * dependency at run time and knows nothing of the station.
 */
@NullMarked
package io.heldmark.protocol;

import org.jspecify.annotations.NullMarked;
