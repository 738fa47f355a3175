package io.heldmark.live;

/**
 * What viewers are told of the station first.
 *
 * @param version version of the station.
 * @param sessionId identity of the session.
 * @param replay whether a recording is played.
 * @param startedAt wall-clock time at station time 0, ISO 8601.
 * @param invented whether the data are invented (simulated).
 */
public record StationFacts(String version, String sessionId, boolean replay, String startedAt, boolean invented) {}
