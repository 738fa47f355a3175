package io.heldmark.live;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * The newest event of every kind, from which a viewer that joins is brought up to date.
 *
 * <p><b>Threading.</b> Any thread; the lock is held only while references are copied, never while text is made.
 */
final class Snapshot {
    /** Contractions and efforts that are kept. */
    static final long HISTORY_NS = 300_000_000_000L;

    /** Most of each, whatever their age. */
    static final int HISTORY_MAX = 1000;

    private record Dated(long id, long atNs, String json) {}

    private final Map<String, String> links = new LinkedHashMap<>();
    private final Map<Integer, String> zeros = new LinkedHashMap<>();
    private final ArrayDeque<Dated> contractions = new ArrayDeque<>();
    private final ArrayDeque<Dated> efforts = new ArrayDeque<>();
    private String channels = "{\"channels\":[]}";
    private @Nullable String recording;
    private @Nullable String target;
    private @Nullable String trials;
    private @Nullable String tap;
    private @Nullable String replay;

    synchronized void channels(String json) {
        channels = json;
    }

    synchronized void link(String name, String json) {
        links.put(name, json);
    }

    synchronized void zero(int channel, String json) {
        zeros.put(channel, json);
    }

    synchronized void recording(String json) {
        recording = json;
    }

    synchronized void target(@Nullable String json) {
        target = json;
    }

    synchronized void trials(@Nullable String json) {
        trials = json;
    }

    synchronized void tap(@Nullable String json) {
        tap = json;
    }

    synchronized void replay(@Nullable String json) {
        replay = json;
    }

    synchronized void contraction(long id, long atNs, String json) {
        contractions.removeIf(c -> c.id() == id);
        contractions.addLast(new Dated(id, atNs, json));
        trim(contractions, atNs);
    }

    synchronized void effort(long id, long atNs, String json) {
        efforts.removeIf(e -> e.id() == id);
        efforts.addLast(new Dated(id, atNs, json));
        trim(efforts, atNs);
    }

    /** Forgets everything that came of the samples so far, as when a replay begins again. */
    synchronized void forgetSession() {
        channels = "{\"channels\":[]}";
        links.clear();
        zeros.clear();
        contractions.clear();
        efforts.clear();
        target = null;
        trials = null;
        tap = null;
    }

    /** Writes the state into an object. */
    void writeTo(JsonOut out, long nowNs) {
        String channelsNow;
        List<String> linksNow;
        List<String> zerosNow;
        List<Dated> contractionsNow;
        List<Dated> effortsNow;
        String recordingNow;
        String targetNow;
        String trialsNow;
        String tapNow;
        String replayNow;
        synchronized (this) {
            channelsNow = channels;
            linksNow = new ArrayList<>(links.values());
            zerosNow = new ArrayList<>(zeros.values());
            contractionsNow = new ArrayList<>(contractions);
            effortsNow = new ArrayList<>(efforts);
            recordingNow = recording;
            targetNow = target;
            trialsNow = trials;
            tapNow = tap;
            replayNow = replay;
        }
        out.raw("channels", arrayOf(channelsNow));
        out.rawArray("links", linksNow).rawArray("zeros", zerosNow);
        raw(out, "recording", recordingNow);
        raw(out, "target", targetNow);
        raw(out, "trials", trialsNow);
        raw(out, "tap", tapNow);
        raw(out, "replay", replayNow);
        out.rawArray("contractions", recent(contractionsNow, nowNs)).rawArray("efforts", recent(effortsNow, nowNs));
    }

    private static void raw(JsonOut out, String name, @Nullable String json) {
        if (json != null) {
            out.raw(name, json);
        }
    }

    /** Returns the array out of a channels event, which holds nothing after it. */
    private static String arrayOf(String channelsEvent) {
        return channelsEvent.substring(channelsEvent.indexOf('['), channelsEvent.length() - 1);
    }

    private static List<String> recent(Collection<Dated> all, long nowNs) {
        List<String> json = new ArrayList<>();
        for (Dated d : all) {
            if (nowNs - d.atNs() <= HISTORY_NS) {
                json.add(d.json());
            }
        }
        return json;
    }

    private static void trim(ArrayDeque<Dated> dated, long nowNs) {
        for (Iterator<Dated> i = dated.iterator(); i.hasNext(); ) {
            if (nowNs - i.next().atNs() <= HISTORY_NS && dated.size() <= HISTORY_MAX) {
                return;
            }
            i.remove();
        }
    }
}
