package io.heldmark.config;

import java.util.List;

/** Writes {@code docs/settings.md} from {@link Config}. */
public final class SettingsPage {
    private SettingsPage() {}

    /** Returns the page as Markdown. */
    public static String markdown() {
        StringBuilder out = new StringBuilder("""
                # Settings

                <!-- Made from io.heldmark.config.Config by SettingsPageTest; change it there, then run
                     mvn -q -pl daemon/core -am test -Dtest=SettingsPageTest -Dsurefire.failIfNoSpecifiedTests=false \
                -Dheldmark.regenerate=true -->

                Command line (`--set key=value`, as often as needed) over configuration file (`--config FILE`: one
                `key = value` a line, `#` begins a remark) over the defaults. An unknown key or a value out of range is
                refused with one line that names key, value and what is allowed.

                *Results* says whether a result can depend on the setting. Those that can are written into every
                recording, their SHA-256 is echoed with results, and a replay takes them from the recording.

                """);
        String group = "";
        for (Setting setting : Config.all()) {
            String next = setting.key().substring(0, setting.key().indexOf('.'));
            if (!next.equals(group)) {
                group = next;
                out.append("## ").append(group).append("\n\n| key | default | allowed | results | meaning |\n");
                out.append("|---|---|---|---|---|\n");
            }
            out.append(row(setting));
            if (isLastOfGroup(setting, group)) {
                out.append('\n');
            }
        }
        return out.toString().stripTrailing() + "\n";
    }

    private static String row(Setting s) {
        String def = s.defaultText().isEmpty() ? "(empty)" : "`" + s.defaultText() + "`";
        String results = s.scope() == Setting.Scope.RESULT ? "yes" : "no";
        return "| `" + s.key() + "` | " + def + " | " + s.allowed() + " | " + results + " | " + s.doc() + " |\n";
    }

    private static boolean isLastOfGroup(Setting setting, String group) {
        List<Setting> all = Config.all();
        int next = all.indexOf(setting) + 1;
        return next == all.size() || !all.get(next).key().startsWith(group + ".");
    }
}
