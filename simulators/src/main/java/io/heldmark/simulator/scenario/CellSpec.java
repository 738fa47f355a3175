package io.heldmark.simulator.scenario;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A virtual cell. The schema describes every value.
 *
 * @param name its name.
 * @param binding how messages are put into bytes.
 * @param autostartStated whether it streams from power-up on; absent: where it answers no commands.
 * @param textChecks whether text lines end with their check.
 * @param deviceId identity of the device; absent: made of the name.
 * @param model model name.
 * @param firmware firmware version.
 * @param sampleRateHz nominal sample rate, in hertz.
 * @param supportedRatesHz rates that the set-rate command accepts, in hertz; empty for none.
 * @param rateErrorPpm error of the converter's own oscillator, in parts per million.
 * @param samplesPerFrame samples of each channel in one message.
 * @param describeEveryStatedS time between describe messages, in seconds; 0 for at power-up only; absent: as the
 *     protocol asks.
 * @param statusEveryS time between status messages, in seconds; 0 for when asked.
 * @param answersCommands whether it answers commands.
 * @param answersPings whether it answers pings.
 * @param channels its channels, in order.
 * @param adc its converter.
 * @param clock its clock.
 * @param link when bytes reach the reader.
 * @param nonconforming the rule of the protocol that it breaks.
 * @param faults what goes wrong.
 */
public record CellSpec(
        String name,
        Binding binding,
        @JsonProperty("autostart") @Nullable Boolean autostartStated,
        boolean textChecks,
        @Nullable String deviceId,
        String model,
        String firmware,
        double sampleRateHz,
        List<Double> supportedRatesHz,
        double rateErrorPpm,
        int samplesPerFrame,
        @JsonProperty("describeEveryS") @Nullable Double describeEveryStatedS,
        double statusEveryS,
        boolean answersCommands,
        boolean answersPings,
        List<ChannelSpec> channels,
        Adc adc,
        Clock clock,
        LinkTiming link,
        Nonconformity nonconforming,
        FaultSpec faults) {

    /** How messages are put into bytes. */
    public enum Binding {
        /** Byte stream. */
        @JsonProperty("bytes")
        BYTES,
        /** Text lines. */
        @JsonProperty("text")
        TEXT,
        /** Values of the GATT characteristics; over a Bluetooth link only. */
        @JsonProperty("gatt")
        GATT
    }

    /** What lies between cell and reader. */
    public enum LinkKind {
        /** Each message by itself. */
        @JsonProperty("direct")
        DIRECT,
        /** In bursts at connection events. */
        @JsonProperty("interval")
        INTERVAL,
        /** Bytes at a baud rate, collected by an adapter. */
        @JsonProperty("serial")
        SERIAL
    }

    /**
     * A channel.
     *
     * @param name its name.
     * @param limb limb whose force it carries.
     * @param share share of the limb's force.
     * @param ratedLoadN rated load, in newtons.
     * @param calibration factory calibration, or absent.
     */
    public record ChannelSpec(
            String name,
            String limb,
            double share,
            double ratedLoadN,
            @Nullable Calibration calibration) {}

    /**
     * A factory calibration in the device.
     *
     * @param relativeU relative standard uncertainty of the slope; 0 for not stated.
     * @param slopeErrorPercent true error of the slope, in percent.
     * @param zeroErrorCounts true error of the zero, in counts.
     * @param date date as the number YYYYMMDD; 0 for not stated.
     */
    public record Calibration(double relativeU, double slopeErrorPercent, int zeroErrorCounts, int date) {}

    /**
     * The converter.
     *
     * @param bits resolution.
     * @param gain gain that the device states.
     * @param countsPerNewton sensitivity; absent: full scale at 1.5 times the rated load.
     * @param offsetCounts reading of the unloaded cell.
     * @param noiseSdN white noise, standard deviation, in newtons.
     * @param noiseSdCounts white noise, standard deviation, in counts.
     * @param flickerSdN 1/f noise, standard deviation, in newtons.
     * @param humN amplitude of mains hum, in newtons.
     * @param humHz frequency of mains hum, in hertz.
     * @param averageS averaging time, in seconds.
     * @param bandwidthHz bandwidth that the device states, in hertz; 0 for that of the averaging.
     */
    public record Adc(
            int bits,
            double gain,
            @Nullable Double countsPerNewton,
            int offsetCounts,
            double noiseSdN,
            double noiseSdCounts,
            double flickerSdN,
            double humN,
            double humHz,
            double averageS,
            double bandwidthHz) {}

    /**
     * The device's clock.
     *
     * @param tickRateHz rate of the tick counter, in hertz.
     * @param startTick tick at time 0; absent: drawn.
     * @param offsetPpm constant error of its rate, in parts per million.
     * @param wanderPpm slow wander of its rate, root mean square, in parts per million.
     * @param wanderPeriodS longest period of the wander, in seconds.
     * @param sampleJitterS jitter of the moment of sampling, standard deviation, in seconds.
     */
    public record Clock(
            long tickRateHz,
            @Nullable Long startTick,
            double offsetPpm,
            double wanderPpm,
            double wanderPeriodS,
            double sampleJitterS) {}

    /**
     * When bytes reach the reader.
     *
     * @param kind how they travel.
     * @param latencyS least delay, in seconds.
     * @param jitterS mean of the further delay, in seconds.
     * @param intervalS interval: time between connection events, in seconds.
     * @param framesPerInterval interval: most messages in one event.
     * @param retryProbability interval: probability that an event fails.
     * @param baud serial: bits per second.
     * @param latencyTimerS serial: the adapter's timer, in seconds.
     */
    public record LinkTiming(
            LinkKind kind,
            double latencyS,
            double jitterS,
            double intervalS,
            int framesPerInterval,
            double retryProbability,
            int baud,
            double latencyTimerS) {
        /** Connection events every 15 ms, four messages each at most. */
        static final LinkTiming RADIO = new LinkTiming(LinkKind.INTERVAL, 0.001, 0, 0.015, 4, 0, 115200, 0.016);
    }

    /** Returns this cell, streaming from power-up on. */
    public CellSpec withAutostart() {
        return with(binding, true, link);
    }

    /** Returns this cell as it speaks over Bluetooth LE; a serial line becomes a radio link with the usual values. */
    public CellSpec withGatt() {
        return with(Binding.GATT, autostartStated, link.kind() == LinkKind.SERIAL ? LinkTiming.RADIO : link);
    }

    private CellSpec with(Binding newBinding, @Nullable Boolean newAutostart, LinkTiming newLink) {
        return new CellSpec(
                name,
                newBinding,
                newAutostart,
                textChecks,
                deviceId,
                model,
                firmware,
                sampleRateHz,
                supportedRatesHz,
                rateErrorPpm,
                samplesPerFrame,
                describeEveryStatedS,
                statusEveryS,
                answersCommands,
                answersPings,
                channels,
                adc,
                clock,
                newLink,
                nonconforming,
                faults);
    }

    /** Returns whether it streams from power-up on. */
    public boolean autostart() {
        if (nonconforming == Nonconformity.WAITS_FOR_START) {
            return true;
        }
        return autostartStated == null ? !answersCommands : autostartStated;
    }

    /** Returns whether it answers pings; the protocol ties that to commands. */
    public boolean respondsToPings() {
        return answersCommands && answersPings;
    }

    /** Returns the time between describe messages, in seconds; 0 for at power-up only. */
    public double describeEveryS() {
        if (nonconforming == Nonconformity.DESCRIBE_REPEAT) {
            return 30;
        }
        if (describeEveryStatedS != null) {
            return describeEveryStatedS;
        }
        return answersCommands ? 0 : 5;
    }

    /** Returns the time between status messages, in seconds; 0 for when asked. */
    @Override
    public double statusEveryS() {
        return nonconforming == Nonconformity.STATUS_INTERVAL ? 0.2 : statusEveryS;
    }

    /** Returns the error of the converter's own oscillator, in parts per million. */
    @Override
    public double rateErrorPpm() {
        return nonconforming == Nonconformity.SAMPLE_RATE ? 300_000 : rateErrorPpm;
    }

    /** Returns the identity that the device states. */
    public String deviceIdentity() {
        return deviceId == null ? "sim-" + name : deviceId;
    }

    /** Returns the true sensitivity, in counts per newton. */
    public double countsPerNewton() {
        Double stated = adc.countsPerNewton();
        if (stated != null) {
            return stated;
        }
        return StrictMath.pow(2, adc.bits() - 1) / (1.5 * channels.get(0).ratedLoadN());
    }
}
