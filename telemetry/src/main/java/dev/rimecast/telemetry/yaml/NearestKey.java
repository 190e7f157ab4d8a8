package dev.rimecast.telemetry.yaml;

import java.util.Collection;
import java.util.Optional;

/** The known word that somebody probably meant. */
public final class NearestKey {

    private NearestKey() {}

    /** The closest of {@code known}, if it is close enough that a slip of the hand explains it. */
    public static Optional<String> of(String written, Collection<String> known) {
        String best = "";
        int fewest = Integer.MAX_VALUE;
        for (String candidate : known) {
            int edits = edits(written, candidate);
            if (edits < fewest) {
                fewest = edits;
                best = candidate;
            }
        }
        int allowed = Math.max(1, Math.min(written.length(), best.length()) / 3);
        return fewest <= allowed ? Optional.of(best) : Optional.empty();
    }

    /** {@code ": did you mean 'port'?"}, or nothing. */
    public static String hint(String written, Collection<String> known) {
        return of(written, known).map(key -> ": did you mean '" + key + "'?").orElse("");
    }

    /** Optimal string alignment: insertions, deletions, replacements and swaps of two neighbours. */
    private static int edits(String a, String b) {
        int[][] cost = new int[a.length() + 1][b.length() + 1];
        for (int i = 0; i <= a.length(); i++) {
            for (int j = 0; j <= b.length(); j++) {
                if (i == 0 || j == 0) {
                    cost[i][j] = i + j;
                    continue;
                }
                int replace = cost[i - 1][j - 1] + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
                int best = Math.min(replace, Math.min(cost[i - 1][j], cost[i][j - 1]) + 1);
                boolean swapped =
                        i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1);
                cost[i][j] = swapped ? Math.min(best, cost[i - 2][j - 2] + 1) : best;
            }
        }
        return cost[a.length()][b.length()];
    }
}
