package io.heldmark.link.ble;

import io.heldmark.link.stream.Connection;
import io.heldmark.link.stream.Connector;
import io.heldmark.link.stream.UnavailableException;
import io.heldmark.time.StationClock;

/** Connects to one cell through whichever stack this computer has. */
final class BleConnector implements Connector {
    private final Centrals centrals;
    private final String provider;
    private final String adapter;
    private final String address;
    private final String passkey;
    private final StationClock clock;

    BleConnector(
            Centrals centrals, String provider, String adapter, String address, String passkey, StationClock clock) {
        this.centrals = centrals;
        this.provider = provider;
        this.adapter = adapter;
        this.address = address;
        this.passkey = passkey;
        this.clock = clock;
    }

    @Override
    public Connection connect() throws UnavailableException {
        BleConnection connection = new BleConnection(clock);
        connection.begin(centrals.central(provider).connect(adapter, address, passkey, connection));
        return connection;
    }
}
