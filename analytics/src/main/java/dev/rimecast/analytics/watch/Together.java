package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.List;
import java.util.Map;

/**
 * What several features say together. A compressor that gets weak makes a freeze 3 % longer, a harvest 4 % and lowers the
 * condensing temperature by 0.8 K: none of them is worth a finding, all of them at once are.
 *
 * <p>Their shares of what is worth a finding are added as squares, as far as one and the same cause moves them that way and
 * their own charts are at their limits. A feature whose chart says that it went elsewhere speaks against the cause.
 */
final class Together {
    private Together() {}

    /**
     * How large a change is with what supports it: 1 is worth a finding; 0 where no cause moves it and more.
     *
     * @param signatures in which direction each cause moves the features of this kind of machine
     */
    static double size(
            Sign.Change change,
            Map<Feature, Watched> watched,
            List<Map<Feature, Integer>> signatures,
            GroupPolicy policy) {
        List<Shares> shares = watched.entrySet().stream()
                .map(entry -> new Shares(
                        entry.getKey(),
                        entry.getValue().share(true, policy),
                        entry.getValue().share(false, policy)))
                .toList();
        double most = 0;
        for (Map<Feature, Integer> signs : signatures) {
            if (signs.getOrDefault(change.feature(), 0) == (int) change.sign()) {
                most = StrictMath.max(most, size(signs, shares, policy));
            }
        }
        return most;
    }

    /** How far a feature has gone either way. */
    private record Shares(Feature feature, double up, double down) {}

    private static double size(Map<Feature, Integer> signs, List<Shares> shares, GroupPolicy policy) {
        double sum = 0;
        for (Shares each : shares) {
            int sign = signs.getOrDefault(each.feature(), 0);
            if (speaksAgainst(sign, each.up(), each.down(), policy)) {
                return 0;
            }
            double share = sign > 0 ? each.up() : sign < 0 ? each.down() : 0;
            sum += share * share;
        }
        return StrictMath.sqrt(sum);
    }

    private static boolean speaksAgainst(int sign, double up, double down, GroupPolicy policy) {
        double most = sign == 0 ? 1 : policy.get(PolicyNumber.TOGETHER_SHARE);
        return (sign <= 0 && up >= most) || (sign >= 0 && down >= most);
    }
}
