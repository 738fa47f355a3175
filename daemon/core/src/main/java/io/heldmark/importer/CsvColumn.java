package io.heldmark.importer;

/**
 * A column of forces.
 *
 * @param name its name, without the unit.
 * @param resolutionN smallest difference between two successive values at the head of the file, in newtons; 0 where they
 *     never differ.
 */
public record CsvColumn(String name, double resolutionN) {}
