package io.heldmark.pipeline;

import io.heldmark.calibrate.Calibrator;
import io.heldmark.config.StationSettings;
import io.heldmark.link.Link;
import io.heldmark.link.LinkState;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Counter;
import io.heldmark.model.Counters;
import io.heldmark.model.Level;
import io.heldmark.model.SaidConditions;
import io.heldmark.model.Target;
import io.heldmark.model.TestConditions;
import io.heldmark.model.TraceFilter;
import io.heldmark.model.TrialConditions;
import io.heldmark.protocol.Channel;
import io.heldmark.protocol.Describe;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.Executor;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The signal path of the whole station: inputs in, findings out, nothing else.
 *
 * <p><b>Determinism.</b> What the listener is told is a pure function of settings, links and the sequence of calls. There
 * is no clock in here: time enters as an argument, time-outs fire with the input that shows that they are over. The same
 * recording therefore gives the same calls, bit for bit.
 *
 * <p><b>Time.</b> Inputs of different links may come slightly out of order; the core's own time is the latest seen.
 *
 * <p><b>Faults.</b> What a device sends never throws. A broken invariant ends the trial: the stages of that link are built
 * anew, the fault is logged, counted and told, and the next input is taken as usual.
 *
 * <p><b>Threading.</b> One thread; nothing is allocated per sample.
 */
public final class StationCore {
    private static final Logger LOG = LoggerFactory.getLogger(StationCore.class);
    private static final long LEVEL_PERIOD_NS = 100_000_000L;
    private static final long HEALTH_PERIOD_NS = 1_000_000_000L;

    private final StationSettings settings;
    private final StationListener out;
    private final Counters counters;
    private final ContractionDesk desk;
    private final LinkPath[] links;
    private final VirtualChannels virtuals;
    private final TapDesk taps;
    private final List<ChannelPath> channels = new ArrayList<>();
    private final List<BoundCalibration> chosen = new ArrayList<>();
    private final Levers levers;
    private TrialConditions conditions = TrialConditions.always(TestConditions.UNKNOWN);
    private final TrialLog trials = new TrialLog();
    private long nowNs;
    private long nextLevelNs = LEVEL_PERIOD_NS;
    private long nextHealthNs = HEALTH_PERIOD_NS;

    /**
     * Makes the signal path.
     *
     * @param settings the effective settings.
     * @param links the links, by number.
     * @param out takes what is found, on the calling thread.
     * @param counters takes what is lost.
     */
    public StationCore(StationSettings settings, List<LinkSetup> links, StationListener out, Counters counters) {
        this(settings, links, out, counters, Runnable::run);
    }

    /** Makes the signal path; finished contractions are measured by a worker that keeps the order of what it is given. */
    StationCore(
            StationSettings settings,
            List<LinkSetup> links,
            StationListener out,
            Counters counters,
            Executor measuring) {
        this.settings = settings;
        this.out = out;
        this.counters = counters;
        levers = new Levers(settings);
        taps = new TapDesk(out);
        desk = new ContractionDesk(settings, out, taps::now, measuring);
        virtuals = new VirtualChannels(this, links, desk);
        this.links = new LinkPath[links.size()];
        for (int i = 0; i < this.links.length; i++) {
            this.links[i] = new LinkPath(links.get(i), this);
        }
    }

    /** Takes the bytes of one read of one link. */
    public void onChunk(int link, long arrivalNs, byte[] bytes, int offset, int length) {
        advance(arrivalNs);
        LinkPath path = links[link];
        try {
            path.onChunk(arrivalNs, bytes, offset, length);
        } catch (RuntimeException fault) {
            onFault(path, fault);
        }
        path.tellHealth(nowNs, false);
    }

    /** Takes note that the station itself lost bytes of a link before this input. */
    public void onBytesLost(int link, long lostBytes, long atNs) {
        advance(atNs);
        links[link].onBytesLost();
        out.onNotice(
                "warning",
                links[link].setup().name() + ": the station lost " + lostBytes + " bytes: it is too busy",
                atNs);
    }

    /** Takes a change of a link's state. */
    public void onLinkState(int link, LinkState state, String reason, long atNs) {
        advance(atNs);
        links[link].onLinkState(state, reason, atNs);
        if (state != LinkState.UP) {
            taps.onLinkDown(links[link].setup().name());
        }
        links[link].tellHealth(nowNs, false);
    }

    /** Takes note that a ping is about to be sent. */
    public void onPingSent(int link, int pingId, long sentNs) {
        advance(sentNs);
        links[link].onPingSent(pingId, sentNs);
    }

    /** Asks for the session zero of channels; none named: of all. Channels that do not exist are left out. */
    public void onZeroRequest(int[] wanted, long atNs) {
        advance(atNs);
        if (wanted.length == 0) {
            channels.forEach(c -> c.requestZero(atNs));
        }
        for (int channel : wanted) {
            if (channel >= 0 && channel < channels.size()) {
                channels.get(channel).requestZero(atNs);
            }
        }
    }

    /** Asks to align two cells by a knock; none named: those of the left and the right limb. */
    public void onTapRequest(List<Integer> wanted, boolean forget, long atNs) {
        advance(atNs);
        if (forget) {
            taps.forget();
        } else {
            new TapRequest(channels, links).begin(wanted, taps, atNs);
        }
    }

    /** Takes a mark that a person set. */
    public void onMark(String text, long atNs) {
        advance(atNs);
        out.onMark(text, atNs);
    }

    /** Takes what a person does to the boundaries of a finished contraction. */
    public void onBoundary(BoundaryChange change, long atNs) {
        advance(atNs);
        desk.onBoundary(change, nowNs);
    }

    /** Takes what a person does to them while a recording is played. */
    void onLaterBoundary(BoundaryChange change, String movedAt, long atNs) {
        advance(atNs);
        desk.onLaterBoundary(change, movedAt, nowNs);
    }

    /** Takes what was moved after the session, of a recording; before any input. */
    void setLaterMoves(LaterMoves later) {
        desk.setLaterMoves(later);
    }

    /**
     * Takes the calibration that a person chose for a device's channel: it holds from here on, in place of a saved one that the
     * station began with. Channels of that device begin anew, without a zero.
     */
    public void onCalibration(BoundCalibration calibration, long atNs) {
        advance(atNs);
        chosen.removeIf(one -> one.isOf(calibration.deviceId(), calibration.deviceChannel()));
        chosen.add(calibration);
        for (LinkPath link : links) {
            link.onCalibration(calibration, nowNs);
        }
    }

    /** Returns the finished contractions with their samples; any thread may read them. */
    ReviewDesk reviews() {
        return desk.reviews();
    }

    /** Takes the target; absent: there is none any more. */
    public void onTarget(@Nullable Target target, long atNs) {
        advance(atNs);
        trials.onTarget(target, nowNs);
        out.onTarget(target, atNs);
    }

    /** Takes what is said of the trials from now on, in place of what was said before. */
    public void onTrials(SaidConditions said, long atNs) {
        advance(atNs);
        trials.onSaid(said, nowNs);
        out.onTrials(said, atNs);
    }

    /** Lets time pass: about 10 times a second. */
    public void onClock(long atNs) {
        advance(atNs);
        for (LinkPath link : links) {
            link.onClock(nowNs);
        }
        for (int i = 0; i < channels.size(); i++) {
            channels.get(i).onClock(nowNs);
        }
        taps.onClock(nowNs);
        for (LinkPath link : links) {
            link.tellHealth(nowNs, false);
        }
    }

    /** Takes what the plan or the user says of the trials from now on. */
    public void setConditions(TrialConditions said) {
        conditions = said;
        channels.forEach(channel -> channel.setConditions(conditionsOf(channel.info())));
    }

    /** Ends the session: contractions that are open are finished with what was seen of them. */
    public void end(long atNs) {
        advance(atNs);
        channels.forEach(channel -> channel.finish(nowNs));
    }

    /** Returns the state that a recording which begins now must start from. */
    public ResumePoint resumePoint() {
        List<LinkPath> order = new ArrayList<>(List.of(links));
        order.sort(Comparator.comparingInt(LinkPath::firstChannel)); // stable: links without channels stay last
        List<ResumePoint.LinkPoint> linkPoints = new ArrayList<>();
        for (LinkPath link : order) {
            linkPoints.add(link.resumePoint(List.of(links).indexOf(link)));
        }
        List<ResumePoint.ZeroPoint> zeros = new ArrayList<>();
        for (ChannelPath channel : channels) {
            if (channel.zeroed()) {
                zeros.add(channel.zeroPoint());
            }
        }
        return new ResumePoint(linkPoints, zeros, trials.target(), trials.said(), chosen);
    }

    /** Takes the state at which a recording began within a session; before any other input. */
    public void onResume(ResumePoint point, long atNs) {
        advance(atNs);
        point.calibrations().forEach(calibration -> onCalibration(calibration, atNs));
        for (ResumePoint.LinkPoint link : point.links()) {
            if (link.link() >= 0 && link.link() < links.length) {
                links[link.link()].resume(link, atNs);
                links[link.link()].tellHealth(nowNs, false);
            }
        }
        for (ResumePoint.ZeroPoint zero : point.zeros()) {
            if (zero.channel() >= 0 && zero.channel() < channels.size()) {
                channels.get(zero.channel()).adoptZero(zero, atNs);
            }
        }
        onTarget(point.target(), atNs);
        if (!point.said().equals(SaidConditions.NONE)) {
            onTrials(point.said(), atNs);
        }
    }

    /** Takes what is known of a device, to decide what to send to it. */
    interface DeviceListener {
        /** Takes the binding in use, the capabilities or -1, and whether samples come. */
        void onKnown(Link.Binding binding, int capabilities, boolean streaming);
    }

    /** Tells what is known of a link's device. */
    void tellDevice(int link, DeviceListener listener) {
        links[link].tellDevice(listener);
    }

    private void advance(long atNs) {
        nowNs = Math.max(nowNs, atNs);
        if (nowNs >= nextLevelNs) {
            nextLevelNs = (nowNs / LEVEL_PERIOD_NS + 1) * LEVEL_PERIOD_NS;
            tellLevels();
        }
        if (nowNs >= nextHealthNs) {
            nextHealthNs = (nowNs / HEALTH_PERIOD_NS + 1) * HEALTH_PERIOD_NS;
            for (LinkPath link : links) {
                link.tellHealth(nowNs, true);
            }
        }
    }

    private void tellLevels() {
        if (channels.isEmpty() || !out.wantsTrace()) {
            return;
        }
        List<Level> levels = new ArrayList<>(channels.size());
        for (ChannelPath channel : channels) {
            levels.add(channel.level(nowNs));
        }
        virtuals.addCentres(levels);
        out.onLevels(levels, nowNs);
    }

    private void onFault(LinkPath path, RuntimeException fault) {
        counters.increment(Counter.PROCESSING_FAULTS);
        LOG.error("the stages of {} failed and are built anew", path.setup().name(), fault);
        out.onNotice("error", path.setup().name() + ": a fault of the station ended this trial: " + fault, nowNs);
        path.restartStages(nowNs);
    }

    /** Gives a channel its place in the list: the one that it had, or the next. */
    ChannelPath placeChannel(LinkSetup link, Describe device, Channel channel, long atNs) {
        int number = numberOf(link.name(), channel.index());
        ChannelFactory.Made made = ChannelFactory.make(number, link, device, channel);
        return put(made.info(), made.calibrator());
    }

    /** Puts a channel into the list, at its number. */
    ChannelPath put(ChannelInfo info, Calibrator calibrator) {
        int number = info.channel();
        ChannelPath path = new ChannelPath(info, calibrator, settings, desk, out);
        path.setConditions(conditionsOf(info));
        if (number == channels.size()) {
            channels.add(path);
        } else {
            channels.set(number, path);
        }
        return path;
    }

    private TrialConditions conditionsOf(ChannelInfo channel) {
        return levers.of(channel, trials.of(channel.limb(), conditions));
    }

    /** Returns the number that a channel has, or will have. */
    int numberOf(String link, int deviceChannel) {
        for (int i = 0; i < channels.size(); i++) {
            ChannelInfo info = channels.get(i).info();
            if (info.link().equals(link) && info.deviceChannel() == deviceChannel) {
                return i;
            }
        }
        return channels.size();
    }

    void tellChannels(long atNs) {
        List<ChannelPath> sums = virtuals.place(channels, atNs);
        List<ChannelInfo> infos = new ArrayList<>(channels.size());
        List<TraceFilter> filters = new ArrayList<>(channels.size());
        for (ChannelPath channel : channels) {
            infos.add(channel.info());
            filters.add(channel.traceFilter());
        }
        out.onChannels(List.copyOf(infos), List.copyOf(filters), atNs);
        sums.forEach(sum -> sum.begin(settings, atNs));
    }

    StationSettings settings() {
        return settings;
    }

    StationListener out() {
        return out;
    }

    Counters counters() {
        return counters;
    }
}
