package io.heldmark.align;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Arrivals of one device over one link in virtual time, with their truth; everything follows from the seed.
 *
 * <p><b>Device clock.</b> Constant skew of up to 100 ppm, wander of up to 2 ppm with a period of 2 to 10 minutes, any
 * start; ticks of one microsecond. <b>Link.</b> {@link LinkKind}: first in, first out; at most {@link LinkKind#perGridTime} frames at
 * one grid time; the grid has a skew of its own of up to 50 ppm; every {@code hiccupEveryS} on average the station
 * takes nothing for up to two seconds and then all at once. <b>Frames.</b> One percent never arrives.
 *
 * <p><b>Pings.</b> Sent at random times (the dither), they wait on the way down where the link kind says so; the pong
 * queues with the samples.
 */
final class SyntheticArrivals {
    static final double TICK_RATE_HZ = 1e6;
    static final double TICK_NS = 1e9 / TICK_RATE_HZ;
    private static final double LOSS = 0.01;
    private static final double MS = 1e6;

    /** One thing that reaches the station: frame ({@code pingSentNs < 0}) or pong. */
    record Arrival(long arrivalNs, long lastTick, long pingSentNs, long receivedTick) {
        void into(ClockAligner aligner) {
            if (pingSentNs < 0) {
                aligner.onArrival(lastTick, arrivalNs);
            } else {
                aligner.onPong(pingSentNs, receivedTick, lastTick, arrivalNs);
            }
        }
    }

    /** What waits to be carried: the tick that it is about and the station time at which it is ready. */
    private record Ready(double atNs, long tick, long pingSentNs, long receivedTick) {}

    private final LinkKind kind;
    private final SplittableRandom random;
    private final double skew;
    private final double wander;
    private final double wanderRate; // rad per ns
    private final double wanderPhase;
    private final double startDeviceNs;
    private final double gridStartNs;
    private final double gridNs;
    private final long gridSeed;
    private final List<Arrival> arrivals = new ArrayList<>();

    /**
     * Makes the arrivals of a stretch of time.
     *
     * @param pings when pings are sent, and how many a second.
     */
    SyntheticArrivals(LinkKind kind, long seed, double durationS, Pings pings, double hiccupEveryS) {
        this.kind = kind;
        random = new SplittableRandom(seed);
        skew = random.nextDouble(-100e-6, 100e-6);
        wander = random.nextDouble(0, 2e-6);
        wanderRate = 2 * Math.PI / (random.nextDouble(120, 600) * 1e9);
        wanderPhase = random.nextDouble(2 * Math.PI);
        startDeviceNs = random.nextDouble(0, 4000e9);
        gridNs = kind.intervalMs() * MS * (1 + random.nextDouble(-50e-6, 50e-6));
        gridStartNs = -random.nextDouble() * gridNs;
        gridSeed = random.nextLong();
        carry(ready(durationS * 1e9, pings), hiccups(durationS * 1e9, hiccupEveryS));
    }

    /**
     * Pings at random times.
     *
     * @param perS mean number a second; 0: none.
     * @param untilS none after this.
     */
    record Pings(double perS, double untilS) {
        static final Pings NONE = new Pings(0, 0);
    }

    List<Arrival> arrivals() {
        return arrivals;
    }

    /** True station time of a tick. */
    double trueNs(long tick) {
        double target = tick * TICK_NS - startDeviceNs;
        double t = target / (1 + skew);
        for (int i = 0; i < 4; i++) {
            t += (target - deviceElapsedNs(t)) / (1 + skew);
        }
        return t;
    }

    double skewPpm() {
        return skew * 1e6;
    }

    private double deviceElapsedNs(double stationNs) {
        return stationNs * (1 + skew)
                + wander
                        / wanderRate
                        * (StrictMath.cos(wanderPhase) - StrictMath.cos(wanderRate * stationNs + wanderPhase));
    }

    private long tickAt(double stationNs) {
        return Math.round((startDeviceNs + deviceElapsedNs(stationNs)) / TICK_NS);
    }

    private List<Ready> ready(double durationNs, Pings pings) {
        List<Ready> all = new ArrayList<>();
        double packetNs = kind.packetMs() * MS;
        double firstDeviceNs = startDeviceNs + random.nextDouble() * packetNs;
        for (long k = 0; ; k++) {
            long tick = Math.round((firstDeviceNs + k * packetNs) / TICK_NS);
            double atNs = trueNs(tick);
            if (atNs > durationNs) {
                break;
            }
            if (random.nextDouble() >= LOSS) {
                all.add(new Ready(atNs + 0.1 * MS, tick, -1, 0));
            }
        }
        double sentNs = 0;
        while (pings.perS() > 0) {
            sentNs += exponential(1e9 / pings.perS());
            if (sentNs > Math.min(durationNs, pings.untilS() * 1e9)) {
                break;
            }
            double handedNs = sentNs + kind.leadMs() * MS;
            double receivedNs = (kind.downlinkWaits() ? nextGridNs(handedNs) : handedNs) + delayNs(kind.downBaseMs());
            long transmitted = tickAt(receivedNs + 0.1 * MS);
            all.add(new Ready(receivedNs + 0.15 * MS, transmitted, (long) sentNs, tickAt(receivedNs)));
        }
        all.sort(Comparator.comparingDouble(Ready::atNs));
        return all;
    }

    private void carry(List<Ready> ready, List<double[]> hiccups) {
        double lastNs = 0;
        long event = Long.MIN_VALUE;
        int used = 0;
        int hiccup = 0;
        for (Ready item : ready) {
            double atNs = item.atNs();
            if (gridNs > 0) {
                long earliest = (long) Math.ceil((atNs - gridStartNs) / gridNs);
                if (earliest > event) {
                    event = earliest;
                    used = 0;
                }
                while (used >= kind.perGridTime() || fails(event)) {
                    event++;
                    used = 0;
                }
                used++;
                atNs = gridStartNs + event * gridNs;
            }
            atNs = Math.max(atNs + delayNs(kind.baseMs()), lastNs);
            while (hiccup < hiccups.size() && hiccups.get(hiccup)[1] < atNs) {
                hiccup++;
            }
            if (hiccup < hiccups.size() && atNs > hiccups.get(hiccup)[0]) {
                atNs = hiccups.get(hiccup)[1];
            }
            lastNs = atNs;
            arrivals.add(new Arrival((long) atNs, item.tick(), item.pingSentNs(), item.receivedTick()));
        }
    }

    private List<double[]> hiccups(double durationNs, double everyS) {
        List<double[]> hiccups = new ArrayList<>();
        double atNs = 0;
        while (everyS > 0) {
            atNs += exponential(everyS * 1e9);
            if (atNs > durationNs) {
                break;
            }
            double endNs = atNs + random.nextDouble(0.02e9, 2e9);
            hiccups.add(new double[] {atNs, endNs});
            atNs = endNs;
        }
        return hiccups;
    }

    private double nextGridNs(double atNs) {
        long event = (long) Math.ceil((atNs - gridStartNs) / gridNs);
        while (fails(event)) {
            event++;
        }
        return gridStartNs + event * gridNs;
    }

    /** The same answer for the same grid time, whoever asks. */
    private boolean fails(long event) {
        return new SplittableRandom(gridSeed ^ (event * 0x9E3779B97F4A7C15L)).nextDouble() < kind.retryShare();
    }

    private double delayNs(double baseMs) {
        return baseMs * MS + exponential(kind.jitterMs() * MS);
    }

    private double exponential(double mean) {
        return mean == 0 ? 0 : -mean * StrictMath.log(1 - random.nextDouble());
    }
}
