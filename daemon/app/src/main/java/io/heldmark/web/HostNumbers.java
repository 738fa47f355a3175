package io.heldmark.web;

import java.net.InetAddress;
import java.net.UnknownHostException;
import org.jspecify.annotations.Nullable;

/** Tells numeric addresses from names without ever asking a name server. */
final class HostNumbers {
    private HostNumbers() {}

    /** Returns the address that {@code 127.0.0.1} or {@code [::1]} stands for; absent for a name. */
    static @Nullable InetAddress parse(String name) {
        boolean four = name.matches("[0-9]{1,3}(\\.[0-9]{1,3}){3}");
        boolean six = name.matches("\\[[0-9a-f:.]*:[0-9a-f:.]*\\]");
        if (!four && !six) {
            return null;
        }
        try {
            return InetAddress.getByName(name);
        } catch (UnknownHostException e) {
            return null;
        }
    }
}
