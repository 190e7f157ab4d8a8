package dev.rimecast.history.backtest;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteRecord;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * Alerts of a back-test beside those that were raised live, revision by revision.
 *
 * @param same revisions that both have, with the same condition, stage, priority, time, causes with their probabilities to a
 *     thousandth, date of the limit with its ends, and sentence
 * @param onlyLive revisions that only live has, or has otherwise
 * @param onlyHere revisions that only the back-test has, or has otherwise
 * @param later revisions that only the back-test has, and which are later than what live has said of their site and than {@link
 *     #IN_THE_HISTORY}: the topics of the log and of what was decided are read one after the other, so these may be on their way
 * @param firstDifference in words; empty where there is none
 * @param otherDetector revisions that another version of detection made live
 * @param afterAllOfLive those of {@code onlyHere} that are later than all that live has said of their site: extra, or detection or
 *     the history was behind by more than that
 */
public record Live(
        long same,
        long onlyLive,
        long onlyHere,
        long later,
        String firstDifference,
        long otherDetector,
        long afterAllOfLive) {
    /** What was decided of a record that came so long before the newest is in the history, too: each is written once in a flush. */
    static final Duration IN_THE_HISTORY = HistoryWriter.FLUSH.multipliedBy(2);

    /** How long after its end an alert is remembered by its id in a snapshot: late readings are less late than that. */
    static final Duration REMEMBERED = Duration.ofDays(35);

    /** Compares what was decided anew with the history. */
    public static Live compare(History history, Collection<Finding> findings) {
        return compare(history, findings, Start.ofTheLog(history));
    }

    /** The same; alerts that were over before it started are left out. */
    public static Live compare(History history, Collection<Finding> findings, Start start) {
        Map<String, String> live = new HashMap<>();
        Map<String, Long> newest = new HashMap<>();
        long[] others = {0};
        String detector =
                findings.stream().findFirst().map(Finding::detectorVersion).orElse("");
        history.duck()
                .ask(
                        "select finding, revision, epoch_ms(said_at), step, condition, stage, coalesce(probable_cause, ''),"
                                + " coalesce(summary, ''), coalesce(detector, ''), coalesce(site, ''), priority,"
                                + " cause_probability, coalesce(other_causes, ''), epoch_ms(limit_expected_at),"
                                + " epoch_ms(limit_expected_early), epoch_ms(limit_expected_late) from findings",
                        row -> {
                            Instant said = Instant.ofEpochMilli(row.getLong(3));
                            if (start.isBefore(UUID.fromString(row.getString(1)), said)) {
                                return;
                            }
                            live.put(
                                    row.getString(1) + ' ' + row.getInt(2),
                                    row.getLong(3) + "|" + row.getString(4) + '|' + row.getString(5) + '|'
                                            + row.getString(6) + '|' + row.getString(7) + '|' + row.getString(8) + '|'
                                            + more(row));
                            newest.merge(row.getString(10), row.getLong(3), Math::max);
                            others[0] += row.getString(9).equals(detector) ? 0 : 1;
                        });
        long decided = decidedLive(history).map(Instant::toEpochMilli).orElse(Long.MIN_VALUE);
        long same = 0;
        long onlyHere = 0;
        long later = 0;
        long afterAllOfLive = 0;
        TreeSet<String> different = new TreeSet<>();
        for (Finding finding : findings) {
            String key = finding.id().toString() + ' ' + finding.revision();
            // As it went through the topic: what is not told is no difference.
            String here = words(FindingJson.decode(FindingJson.encode(finding)));
            String there = live.remove(key);
            if (here.equals(there)) {
                same++;
                continue;
            }
            long at = finding.at().toEpochMilli();
            boolean isAfterLive = there == null && at > newest.getOrDefault(finding.site(), Long.MIN_VALUE);
            if (isAfterLive && at > decided) {
                later++;
            } else {
                onlyHere++;
                afterAllOfLive += isAfterLive ? 1 : 0;
                different.add("alert " + key + ": here " + here + ", live " + (there == null ? "nothing" : there));
                if (there != null) {
                    live.put(key, there);
                }
            }
        }
        live.forEach((key, there) -> different.add("alert " + key + ": here otherwise or not at all, live " + there));
        return new Live(
                same,
                live.size(),
                onlyHere,
                later,
                different.isEmpty() ? "" : different.first(),
                others[0],
                afterAllOfLive);
    }

    /**
     * The newest minute of which live has said all that it has to say, and the history has it; empty where the log came in within
     * {@link #IN_THE_HISTORY}. By times of arrival, since a log may be written faster than its minutes pass.
     */
    private static Optional<Instant> decidedLive(History history) {
        Instant[] newest = {Instant.MIN};
        for (Stretch stretch : Stretch.ofNewestLog(history)) {
            String ticks = " from packs where log = " + Duck.literal(stretch.log()) + " and log_partition = "
                    + stretch.partition() + " and site is null and arrived_at ";
            String last = "(select max(arrived_at)" + ticks + "<= (select max(arrived_at) from packs where log = "
                    + Duck.literal(stretch.log()) + ") - interval " + IN_THE_HISTORY.toMinutes() + " minutes)";
            history.duck().ask("select record" + ticks + "= " + last, row -> {
                if (Start.decoded(row, 1) instanceof SiteRecord.Tick tick
                        && tick.at().isAfter(newest[0])) {
                    newest[0] = tick.at();
                }
            });
        }
        return Optional.of(newest[0]).filter(at -> !at.equals(Instant.MIN));
    }

    /** Priority, causes and date of a row of {@code findings}, from its eleventh column on. */
    private static String more(ResultSet row) throws SQLException {
        String priority = row.getString(11);
        double probability = row.getDouble(12);
        String first = row.wasNull() ? "" : thousandths(probability);
        StringBuilder limit = new StringBuilder();
        for (int column = 14; column <= 16; column++) {
            long millis = row.getLong(column);
            limit.append('|').append(row.wasNull() ? "" : String.valueOf(millis));
        }
        return priority + '|' + first + '|' + row.getString(13) + limit;
    }

    private static String more(Finding finding) {
        String first = finding.probableCause()
                .map(cause -> thousandths(cause.probability()))
                .orElse("");
        String others = finding.causes().stream()
                .skip(1)
                .map(cause -> cause.cause().code() + ':' + thousandths(cause.probability()))
                .collect(Collectors.joining(";"));
        return finding.priority().code()
                + '|'
                + first
                + '|'
                + others
                + '|'
                + millis(finding, LimitExpected::at)
                + '|'
                + millis(finding, LimitExpected::early)
                + '|'
                + millis(finding, LimitExpected::late);
    }

    private static String millis(Finding finding, Function<LimitExpected, Instant> which) {
        return finding.limit()
                .map(which)
                .map(at -> String.valueOf(at.toEpochMilli()))
                .orElse("");
    }

    private static String thousandths(double probability) {
        return String.format(Locale.ROOT, "%.3f", probability);
    }

    private static String words(Finding finding) {
        return finding.at().toEpochMilli() + "|" + finding.step().name().toLowerCase(Locale.ROOT) + '|'
                + finding.condition().code() + '|' + finding.stage().code() + '|'
                + finding.probableCause().map(cause -> cause.cause().code()).orElse("") + '|' + finding.summary() + '|'
                + more(finding);
    }

    public boolean isSame() {
        return onlyLive == 0 && onlyHere == 0;
    }

    /** For a person. */
    public String inWords() {
        if (isSame()) {
            return String.format(Locale.ROOT, "Exactly what was raised live: %,d revisions of alerts.%n", same)
                    + atTheEnd();
        }
        return String.format(
                        Locale.ROOT,
                        "Not what was raised live: %,d revisions are the same, %,d only live, %,d only here; the first: %s%n",
                        same,
                        onlyLive,
                        onlyHere,
                        firstDifference)
                + (otherDetector > 0
                        ? String.format(
                                Locale.ROOT, "%,d of them were made by another version of detection.%n", otherDetector)
                        : "")
                + (afterAllOfLive > 0
                        ? String.format(
                                Locale.ROOT,
                                "%,d of those only here are later than all that live has said of their sites: if detection or the history was"
                                        + " behind, ask again when they have caught up.%n",
                                afterAllOfLive)
                        : "")
                + atTheEnd();
    }

    private String atTheEnd() {
        return later == 0
                ? ""
                : String.format(
                        Locale.ROOT,
                        "%,d more are of the last minutes, of which the history need not have what was decided yet: on their way to it,"
                                + " or not raised.%n",
                        later);
    }
}
