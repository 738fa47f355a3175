package io.heldmark.pipeline;

import io.heldmark.calibrate.Calibrator;
import io.heldmark.calibrate.LevelSum;
import io.heldmark.config.Config;
import io.heldmark.config.ConfigException;
import io.heldmark.config.VirtualChannelSpec;
import io.heldmark.config.VirtualChannelSpec.Term;
import io.heldmark.metric.PlateCentre;
import io.heldmark.model.CellCalibration;
import io.heldmark.model.CentreOfPressure;
import io.heldmark.model.ChannelInfo;
import io.heldmark.model.Level;
import io.heldmark.model.Limb;
import io.heldmark.model.Quantity;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Channels that are sums of others, as the setting {@code channels.virtual} defines them. Each is a channel like any other, with
 * its own zero, contractions and figures; it is there once all its terms are.
 *
 * <p><b>Threading.</b> The core's.
 */
final class VirtualChannels {
    static final String NOT_ZEROED = "not every cell under the plate has been zeroed";

    private final StationCore core;
    private final ContractionDesk desk;
    private final List<LinkSetup> links;
    private final List<VirtualChannelSpec> specs;
    private final @Nullable Built[] built;
    private final Set<String> missed = new HashSet<>();

    /** A virtual channel and what it was built of. */
    private record Built(
            List<ChannelPath> terms,
            LevelSum sum,
            ChannelPath path,
            @Nullable PlateCentre centre) {}

    /**
     * Makes the channels that the settings define.
     *
     * @throws ConfigException if one names a link that there is not.
     */
    VirtualChannels(StationCore core, List<LinkSetup> links, ContractionDesk desk) {
        this.core = core;
        this.desk = desk;
        this.links = links;
        String key = Config.CHANNELS_VIRTUAL.key();
        String text = core.settings().text(Config.CHANNELS_VIRTUAL);
        specs = VirtualChannelSpec.parse(key, text);
        built = new Built[specs.size()];
        for (VirtualChannelSpec spec : specs) {
            for (Term term : spec.terms()) {
                if (term.link() >= links.size()) {
                    throw new ConfigException(
                            key,
                            text,
                            "links that there are: " + spec.name() + " names link " + term.link() + ", and there are "
                                    + links.size() + ", numbered from 0");
                }
            }
        }
    }

    /** Builds those whose terms are all there and have changed; returns the new ones, which have not begun. */
    List<ChannelPath> place(List<ChannelPath> channels, long atNs) {
        List<ChannelPath> placed = new ArrayList<>();
        for (int i = 0; i < specs.size(); i++) {
            List<ChannelPath> terms = terms(specs.get(i), channels, atNs);
            Built before = built[i];
            if (terms.size() < specs.get(i).terms().size()
                    || (before != null && before.terms().equals(terms))) {
                continue;
            }
            if (before != null) {
                before.terms().forEach(term -> term.removeTaps(before.sum()));
                before.path().end(atNs);
            }
            placed.add(build(i, terms));
        }
        return placed;
    }

    private List<ChannelPath> terms(VirtualChannelSpec spec, List<ChannelPath> channels, long atNs) {
        List<ChannelPath> terms = new ArrayList<>();
        for (Term term : spec.terms()) {
            String link = links.get(term.link()).name();
            boolean known = false;
            for (ChannelPath channel : channels) {
                ChannelInfo info = channel.info();
                known |= info.link().equals(link);
                if (info.link().equals(link) && info.deviceChannel() == term.deviceChannel()) {
                    if (info.unit().equals("N")) {
                        terms.add(channel);
                    } else {
                        miss(spec, term, "is not calibrated", atNs);
                    }
                    known = false;
                    break;
                }
            }
            if (known) {
                miss(spec, term, "is no channel of that device", atNs);
            }
        }
        return terms;
    }

    private void miss(VirtualChannelSpec spec, Term term, String why, long atNs) {
        String text = spec.name() + " cannot be added up: " + term.link() + "#" + term.deviceChannel() + " " + why;
        if (missed.add(text)) {
            core.out().onNotice("warning", text, atNs);
        }
    }

    private ChannelPath build(int index, List<ChannelPath> terms) {
        VirtualChannelSpec spec = specs.get(index);
        int n = terms.size();
        double[] factors = new double[n];
        boolean[] elsewhere = new boolean[n];
        for (int i = 0; i < n; i++) {
            factors[i] = spec.terms().get(i).factor();
            elsewhere[i] = spec.terms().get(i).link() != spec.terms().get(0).link();
        }
        String name = "virtual:" + spec.name();
        ChannelInfo info = info(core.numberOf(name, index), name, index, spec, terms, factors);
        ChannelPath path = core.put(info, new Calibrator(0, 1, info.calibrationRelativeU()));
        LevelSum sum = new LevelSum(factors, elsewhere, path::onLevels);
        for (int i = 0; i < n; i++) {
            terms.get(i).addTap(sum, i);
        }
        PlateTrack track = spec.isPlate() ? new PlateTrack(spec, terms, core.settings()) : null;
        sum.keepTerms(track);
        desk.putPlate(info.channel(), track);
        built[index] = new Built(List.copyOf(terms), sum, path, centre(spec, factors));
        return path;
    }

    private @Nullable PlateCentre centre(VirtualChannelSpec spec, double[] factors) {
        if (!spec.isPlate()) {
            return null;
        }
        return new PlateCentre(
                factors,
                spec.terms().stream().mapToDouble(Term::xMm).toArray(),
                spec.terms().stream().mapToDouble(Term::yMm).toArray(),
                core.settings().number(Config.PLATE_LEAST_N),
                core.settings().number(Config.PLATE_PLACE_U_MM));
    }

    /** Adds to the levels of all channels where the force on each plate acts. */
    void addCentres(List<Level> levels) {
        for (Built one : built) {
            if (one == null || one.centre() == null) {
                continue;
            }
            List<@Nullable Quantity> forces = new ArrayList<>();
            boolean zeroed = true;
            for (ChannelPath term : one.terms()) {
                forces.add(levels.get(term.info().channel()).force());
                zeroed &= term.zeroed();
            }
            CentreOfPressure centre = zeroed ? one.centre().of(forces) : CentreOfPressure.none(NOT_ZEROED);
            int channel = one.path().info().channel();
            Level level = levels.get(channel);
            levels.set(channel, new Level(channel, level.state(), level.force(), centre));
        }
    }

    private static ChannelInfo info(
            int number, String link, int index, VirtualChannelSpec spec, List<ChannelPath> terms, double[] factors) {
        double[] relativeU = new double[factors.length];
        double[] resolutions = new double[factors.length];
        double bandwidthHz = Double.POSITIVE_INFINITY;
        boolean station = false;
        for (int i = 0; i < factors.length; i++) {
            ChannelInfo term = terms.get(i).info();
            relativeU[i] = term.calibrationRelativeU();
            resolutions[i] = term.resolution();
            bandwidthHz = Math.min(bandwidthHz, term.bandwidthHz()); // 0, unknown, wins
            station |= term.calibration().equals("station");
        }
        return new ChannelInfo(
                number,
                link,
                "",
                index,
                spec.name(),
                limb(spec.name().toLowerCase(Locale.ROOT)),
                terms.get(0).info().sampleRateHz(),
                bandwidthHz,
                0,
                "N",
                station ? "station" : "factory",
                LevelSum.relativeU(factors, relativeU),
                LevelSum.resolution(factors, resolutions),
                CellCalibration.UNKNOWN);
    }

    private static Limb limb(String lower) {
        return lower.startsWith("left") ? Limb.LEFT : lower.startsWith("right") ? Limb.RIGHT : Limb.NONE;
    }
}
