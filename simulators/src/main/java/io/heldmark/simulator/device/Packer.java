package io.heldmark.simulator.device;

import io.heldmark.simulator.truth.ClockTruth;

/** The samples message that a device is filling. */
final class Packer {
    private final int channels;
    private final int bytesPerCount;
    private final int[] counts;
    private int fill;
    private long firstTick;
    private double firstS;
    private double lastS;
    private int status;

    Packer(int channels, int samplesPerFrame, int bytesPerCount) {
        this.channels = channels;
        this.bytesPerCount = bytesPerCount;
        counts = new int[channels * samplesPerFrame];
    }

    /** Begins a sample at a true time; the first of a message takes its tick from the clock. */
    void begin(double timeS, ClockTruth clock) {
        if (fill == 0) {
            firstTick = clock.counter(timeS);
            firstS = timeS;
        }
        lastS = timeS;
        fill++;
    }

    /** Sets a channel of the sample that was begun last. */
    void put(int channel, int value) {
        counts[(fill - 1) * channels + channel] = value;
    }

    /** Moves the tick of the message, which no real clock does. */
    void shiftTick(long ticks) {
        firstTick = (firstTick + ticks) & 0xFFFF_FFFFL;
    }

    void addStatus(int bits) {
        status |= bits;
    }

    /** Empties it; status bits go with it. */
    void clear() {
        fill = 0;
        status = 0;
    }

    boolean isFull() {
        return fill * channels == counts.length;
    }

    int fill() {
        return fill;
    }

    long firstTick() {
        return firstTick;
    }

    double firstS() {
        return firstS;
    }

    double lastS() {
        return lastS;
    }

    int status() {
        return status;
    }

    int channelMask() {
        return (1 << channels) - 1;
    }

    int bytesPerCount() {
        return bytesPerCount;
    }

    int[] counts() {
        return counts;
    }
}
