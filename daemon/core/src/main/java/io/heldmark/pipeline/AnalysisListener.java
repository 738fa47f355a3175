package io.heldmark.pipeline;

import java.util.List;

/** Takes what the analysis of a file finds, on the calling thread and in the order of the file. */
public interface AnalysisListener extends StationListener {
    /** The analysis begins; before anything else. */
    void onStart(AnalysisStart start);

    /**
     * The file was read to its end; after everything else, and not where it could not be used.
     *
     * @param complete whether nothing is missing that the file should hold.
     * @param notes sentences for people about what is not as it should be with the file.
     */
    void onEnd(boolean complete, List<String> notes);

    /** A file is for nobody's eyes while it is read: no trace, no levels. */
    @Override
    default boolean wantsTrace() {
        return false;
    }
}
