package io.heldmark.simulator.device;

import io.heldmark.protocol.SamplesView;
import io.heldmark.protocol.Status;
import io.heldmark.simulator.fault.FaultTimes;
import io.heldmark.simulator.force.Person;
import io.heldmark.simulator.link.Frame;
import io.heldmark.simulator.math.SeededRandom;
import io.heldmark.simulator.math.Sinusoids;
import io.heldmark.simulator.scenario.CellSpec;
import io.heldmark.simulator.scenario.FaultSpec;
import io.heldmark.simulator.scenario.Nonconformity;
import io.heldmark.simulator.truth.ClockTruth;
import io.heldmark.simulator.truth.DamageLog;
import io.heldmark.simulator.truth.DamageTruth;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Consumer;

/**
 * A virtual cell's own life: it samples by its clock, packs, and hands messages to the link. Advances in steps of about one
 * message, in true time; it knows nothing of what happens to its messages.
 *
 * <p>A message is handed over {@value #PROCESSING_S} s after its last sample (common practice, no published source).
 */
public final class Device {
    private static final double PROCESSING_S = 0.0002;
    private static final int WANDER_TERMS = 4;

    private final CellSpec cell;
    private final double untilS;
    private final ClockTruth clock;
    private final Converter[] converters;
    private final int[] lastCounts;
    private final Packer packer;
    private final ClockBreach breach;
    private final Outbox outbox;
    private final Identity identity;
    private final DamageLog log;
    private final SeededRandom jitter;
    private final FaultTimes clockSteps;
    private final FaultTimes reboots;
    private final FaultTimes deviceLosses;
    private final FaultTimes adcFaults;

    private double nowS;
    private double idleSinceS;
    private boolean streaming;
    private double sampleRateHz;
    private double streamStartDeviceS;
    private long streamIndex;
    private int sequence;
    private double adcFaultUntilS = Double.NEGATIVE_INFINITY;
    private double offFromS = Double.POSITIVE_INFINITY;
    private double offUntilS = Double.POSITIVE_INFINITY;
    private double nextDescribeS;
    private double nextStatusS;
    private int adcFaultCount;
    private long lostSamples;
    private int rejectedFrames;
    private long samplesTaken;
    private long messagesSent;

    /**
     * Switches a device on at time 0.
     *
     * @param cell what it is.
     * @param person who pulls at it.
     * @param untilS end of its life, in seconds.
     * @param link takes its messages.
     * @param log takes what goes wrong in it.
     * @param random its stream.
     */
    public Device(
            CellSpec cell, Person person, double untilS, Consumer<Frame> link, DamageLog log, SeededRandom random) {
        this.cell = cell;
        this.untilS = untilS;
        this.log = log;
        clock = clock(cell.clock(), random.split("clock"));
        int channels = cell.channels().size();
        converters = new Converter[channels];
        lastCounts = new int[channels];
        for (int i = 0; i < channels; i++) {
            String limb = cell.channels().get(i).limb();
            converters[i] = new Converter(cell, i, person.limb(limb), random.split("channel", i));
        }
        packer = new Packer(
                channels, ClockBreach.samplesPerFrame(cell), cell.adc().bits() > 24 ? 4 : 3);
        breach = new ClockBreach(cell);
        outbox = new Outbox(cell, link);
        identity = new Identity(cell);
        jitter = random.split("jitter");
        FaultSpec faults = cell.faults();
        clockSteps = times(faults, faults.clockStep(), random.split("clockStep"));
        reboots = times(faults, faults.reboot(), random.split("reboot"));
        deviceLosses = times(faults, faults.deviceLoss(), random.split("deviceLoss"));
        adcFaults = times(faults, faults.adcFault(), random.split("adcFault"));
        sampleRateHz = cell.sampleRateHz();
        start(0);
    }

    private static ClockTruth clock(CellSpec.Clock spec, SeededRandom random) {
        double lowHz = 1 / spec.wanderPeriodS();
        Sinusoids wander = Sinusoids.band(random.split("wander"), WANDER_TERMS, lowHz, 5 * lowHz, spec.wanderPpm(), 1);
        ClockTruth clock = new ClockTruth((double) spec.tickRateHz(), spec.offsetPpm(), wander);
        Long startTick = spec.startTick();
        long drawn = random.split("start").nextLong() >>> 32;
        clock.begin(0, (double) (startTick == null ? drawn : startTick), "power-up");
        return clock;
    }

    private static FaultTimes times(FaultSpec faults, FaultSpec.InTime spec, SeededRandom random) {
        return new FaultTimes(spec, faults.fromS(), faults.untilS(), random);
    }

    /** Returns the time before which no further message will be handed over, in seconds, but answers. */
    public double nowS() {
        return nowS;
    }

    /** Returns whether its life is over. */
    public boolean isOver() {
        return nowS >= untilS;
    }

    /** Goes on by about one message. */
    public void step() {
        double eventS = nextFaultS();
        if (eventS <= nowS) {
            handleFault(eventS);
        } else if (streaming) {
            fillMessage();
        } else {
            nowS = Math.min(Math.min(nextPeriodicS(), eventS), untilS);
            sendPeriodic();
        }
    }

    /** Returns whether nothing more comes from it unless it is told something. */
    public boolean isQuiet() {
        double nextS = Math.min(Math.min(nextPeriodicS(), nextFaultS()), untilS);
        return !streaming && nextS == Double.POSITIVE_INFINITY;
    }

    private double nextPeriodicS() {
        return Math.min(nextStatusS, nextDescribeS);
    }

    private double nextFaultS() {
        return Math.min(
                Math.min(clockSteps.nextS(), reboots.nextS()), Math.min(deviceLosses.nextS(), adcFaults.nextS()));
    }

    private void fillMessage() {
        double eventS = nextFaultS();
        while (!packer.isFull()) {
            double timeS = clock.trueOfDeviceS(deviceS(streamIndex));
            if (timeS >= eventS || timeS >= untilS) {
                sendMessage();
                nowS = Math.min(eventS, untilS);
                return;
            }
            sample(timeS);
            nowS = timeS;
        }
        sendMessage();
        sendPeriodic();
    }

    private void sample(double nominalS) {
        double periodS = periodS();
        double lateS = cell.clock().sampleJitterS() * jitter.nextGaussian();
        // A converter cannot swap two samples, however late one is.
        double timeS = nominalS + Math.max(-0.4 * periodS, Math.min(0.4 * periodS, lateS));
        packer.begin(timeS, clock);
        boolean stuck = timeS < adcFaultUntilS;
        for (int i = 0; i < converters.length; i++) {
            int counts = converters[i].convert(timeS);
            lastCounts[i] = stuck ? lastCounts[i] : counts;
            packer.put(i, lastCounts[i]);
            if (converters[i].overloaded() && !stuck) {
                packer.addStatus(SamplesView.STATUS_OVERLOAD);
            }
        }
        if (stuck) {
            packer.addStatus(SamplesView.STATUS_ADC_FAULT);
        }
        streamIndex++;
        samplesTaken++;
    }

    private void sendMessage() {
        if (packer.fill() == 0) {
            return;
        }
        double toS = packer.lastS() + periodS();
        packer.shiftTick(breach.shift(messagesSent, packer.lastS()));
        Frame.Samples truth = new Frame.Samples(sequence, packer.firstS(), toS, packer.fill());
        outbox.samples(packer, sequence, packer.status(), truth, packer.lastS() + PROCESSING_S);
        sequence = (sequence + breach.step(messagesSent)) & 0xFFFF;
        messagesSent++;
        packer.clear();
    }

    private void sendPeriodic() {
        if (nowS >= nextStatusS && nowS < untilS) {
            nextStatusS += cell.statusEveryS();
            sendStatus(nowS + PROCESSING_S);
        }
        if (nowS >= nextDescribeS && nowS < untilS) {
            nextDescribeS += cell.describeEveryS();
            sendDescribe(nowS + PROCESSING_S);
        }
    }

    private void handleFault(double eventS) {
        if (clockSteps.nextS() == eventS) {
            stepClock(eventS);
        } else if (reboots.nextS() == eventS) {
            reboot(eventS);
        } else if (deviceLosses.nextS() == eventS) {
            loseSamples(eventS);
        } else {
            breakConverter(eventS);
        }
    }

    private void stepClock(double atS) {
        if (atS >= offFromS && atS < offUntilS) {
            clockSteps.advance(offUntilS); // Switched off it has no clock to step.
            return;
        }
        double stepS = clockSteps.drawSize();
        clock.begin(atS, ClockTruth.wrapped(clock.tick(atS) + stepS * clock.tickRateHz()), "step");
        clockSteps.advance(atS);
        log.add(new DamageTruth("clock-step", atS, atS, sequence, 0, 0, 0));
    }

    private void reboot(double atS) {
        double upS = Math.min(atS + reboots.drawSize(), untilS);
        reboots.advance(upS);
        long missed = Math.round((clock.deviceS(upS) - clock.deviceS(atS)) * convertedRateHz());
        log.add(new DamageTruth("reboot", atS, upS, sequence, 0, (int) (streaming ? missed : 0), 0));
        packer.clear();
        offFromS = atS;
        offUntilS = upS;
        clock.begin(upS, 0, "reboot");
        sequence = 0;
        adcFaultCount = 0;
        lostSamples = 0;
        rejectedFrames = 0;
        sampleRateHz = cell.sampleRateHz();
        start(upS);
    }

    private void loseSamples(double atS) {
        int count = deviceLosses.drawWholeSize();
        double toS = atS + count * periodS();
        deviceLosses.advance(toS);
        if (streaming) {
            log.add(new DamageTruth("device-loss", atS, toS, sequence, 0, count, 0));
            packer.addStatus(SamplesView.STATUS_DEVICE_LOSS);
            streamIndex += count;
            lostSamples += count;
        }
    }

    private void breakConverter(double atS) {
        adcFaultUntilS = atS + adcFaults.drawSize();
        adcFaults.advance(adcFaultUntilS);
        adcFaultCount = (adcFaultCount + 1) & 0xFFFF;
        int samples = (int) Math.round((adcFaultUntilS - atS) / periodS());
        log.add(new DamageTruth("adc-fault", atS, adcFaultUntilS, sequence, 0, streaming ? samples : 0, 0));
    }

    /** Powers up: the binding's opening, describe, and the stream if it starts by itself. */
    private void start(double atS) {
        nowS = atS;
        nextDescribeS = cell.describeEveryS() > 0 ? atS + cell.describeEveryS() : Double.POSITIVE_INFINITY;
        nextStatusS = cell.statusEveryS() > 0 ? atS + cell.statusEveryS() : Double.POSITIVE_INFINITY;
        streaming = false;
        idleSinceS = atS;
        outbox.opening(atS);
        sendDescribe(atS);
        if (cell.autostart()) {
            startStream(atS);
        }
    }

    /**
     * Begins to stream at a time; goes on where it streams already. The device may have idled past that time already: then it
     * goes back there, because idling leaves nothing behind but health reports.
     */
    void startStream(double atS) {
        if (!streaming) {
            streaming = true;
            sequence = breach.first(sequence);
            nowS = Math.max(atS, idleSinceS);
            beginTiming(nowS);
        }
    }

    void stopStream() {
        if (streaming && cell.nonconforming() != Nonconformity.STOP) {
            streaming = false;
            idleSinceS = nowS;
        }
    }

    /** Changes the sample rate; returns when the last message at the old one has been sent, in seconds. */
    double setRate(double rateHz, double atS) {
        sampleRateHz = rateHz;
        beginTiming(atS);
        return Math.max(atS, nowS + 2 * PROCESSING_S);
    }

    private void beginTiming(double atS) {
        streamStartDeviceS = clock.deviceS(Math.max(atS, nowS)) + 1 / convertedRateHz();
        streamIndex = 0;
    }

    private double deviceS(long index) {
        return streamStartDeviceS + index / convertedRateHz();
    }

    private double convertedRateHz() {
        return sampleRateHz * (1 + 1e-6 * cell.rateErrorPpm());
    }

    private double periodS() {
        return 1 / sampleRateHz;
    }

    void sendDescribe(double atS) {
        outbox.describe(identity.describe(Math.round(sampleRateHz * 1000)), atS);
    }

    /** Sends the status as of a time: a power cell that loses 5 % an hour, and warms by up to two degrees. */
    void sendStatus(double atS) {
        int percent = (int) Math.max(0, 96 - atS / 720);
        double temperatureC = Math.round(10 * (23.5 + 2 * (1 - StrictMath.exp(-atS / 600)))) / 10.0;
        outbox.status(
                new Status(
                        breach.elsewhere(clock.counter(atS)),
                        OptionalInt.of(percent),
                        OptionalDouble.of(temperatureC),
                        adcFaultCount,
                        lostSamples & 0xFFFF_FFFFL,
                        rejectedFrames & 0xFFFF),
                atS);
    }

    /** Returns whether it is on at a time, in seconds. */
    boolean isOn(double timeS) {
        return !(timeS >= offFromS && timeS < offUntilS);
    }

    /** Counts frames from the station that were of no use. */
    void countRejected(long frames) {
        rejectedFrames += cell.nonconforming() == Nonconformity.REJECTED ? 0 : (int) frames;
    }

    Identity identity() {
        return identity;
    }

    /** Returns the counter as an answer shows it, at a time in seconds. */
    long answerTick(double timeS) {
        return breach.elsewhere(clock.counter(timeS));
    }

    boolean isStreaming() {
        return streaming;
    }

    Outbox outbox() {
        return outbox;
    }

    /** Returns its clock. */
    public ClockTruth clock() {
        return clock;
    }

    /** Returns the sample rate as it is now, in hertz. */
    public double sampleRateHz() {
        return sampleRateHz;
    }

    /** Returns how many samples of each channel it took. */
    public long samplesTaken() {
        return samplesTaken;
    }

    /** Returns how many samples messages it sent. */
    public long messagesSent() {
        return messagesSent;
    }
}
