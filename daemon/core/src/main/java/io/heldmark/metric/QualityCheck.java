package io.heldmark.metric;

import io.heldmark.model.ContractionFlag;

/** One check of a finished contraction; never changes a number, never throws for data. */
interface QualityCheck {
    /** Returns the flag that it may raise. */
    ContractionFlag flag();

    /** Returns what it looks at and from where on, for the documentation. */
    String rule();

    /** Tells whether the flag is raised. */
    boolean raisedBy(Hold hold);
}
