package io.heldmark.importer;

import io.heldmark.model.ChannelInfo;
import io.heldmark.model.ContractionFlag;
import io.heldmark.model.TestConditions;
import io.heldmark.model.Window;
import io.heldmark.model.ZeroReference;
import java.util.EnumSet;
import java.util.Set;

/** A window whose forces are taken relative to a zero of its own; times and boundaries stay. */
public final class RelativeWindow implements Window {
    private final Window window;
    private final RestBefore.Base zero;

    /** Makes the view; valid as long as the window is. */
    public RelativeWindow(Window window, RestBefore.Base zero) {
        this.window = window;
        this.zero = zero;
    }

    @Override
    public int size() {
        return window.size();
    }

    @Override
    public long timeNs(int index) {
        return window.timeNs(index);
    }

    @Override
    public double forceN(int index) {
        return window.forceN(index) - zero.levelN();
    }

    @Override
    public boolean gapBefore(int index) {
        return window.gapBefore(index);
    }

    @Override
    public int onsetIndex() {
        return window.onsetIndex();
    }

    @Override
    public int offsetIndex() {
        return window.offsetIndex();
    }

    @Override
    public long onsetNs() {
        return window.onsetNs();
    }

    @Override
    public long releaseStartNs() {
        return window.releaseStartNs();
    }

    @Override
    public long offsetNs() {
        return window.offsetNs();
    }

    @Override
    public double onsetStandardUncertaintyNs() {
        return window.onsetStandardUncertaintyNs();
    }

    @Override
    public double releaseStartStandardUncertaintyNs() {
        return window.releaseStartStandardUncertaintyNs();
    }

    @Override
    public double offsetStandardUncertaintyNs() {
        return window.offsetStandardUncertaintyNs();
    }

    @Override
    public double timeStandardUncertaintyNs() {
        return window.timeStandardUncertaintyNs();
    }

    @Override
    public double restingLevelN() {
        return window.restingLevelN() - zero.levelN();
    }

    @Override
    public double restingNoiseN() {
        return window.restingNoiseN();
    }

    @Override
    public double restingCorrelationSamples() {
        return window.restingCorrelationSamples();
    }

    @Override
    public double sampleRateHz() {
        return window.sampleRateHz();
    }

    @Override
    public ChannelInfo channel() {
        return window.channel();
    }

    @Override
    public TestConditions conditions() {
        return window.conditions();
    }

    @Override
    public Set<ContractionFlag> flags() {
        if (zero.origin() == RestBefore.Origin.NEAR) {
            return window.flags();
        }
        Set<ContractionFlag> flags = EnumSet.noneOf(ContractionFlag.class);
        flags.addAll(window.flags());
        flags.add(zero.origin().flag());
        return flags;
    }

    @Override
    public ZeroReference zero() {
        return zero.origin() == RestBefore.Origin.NONE
                ? ZeroReference.NONE
                : ZeroReference.taken(zero.levelN(), zero.standardUncertaintyN(), zero.atNs());
    }
}
