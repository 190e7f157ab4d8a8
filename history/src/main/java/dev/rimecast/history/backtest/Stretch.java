package dev.rimecast.history.backtest;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.query.History;
import java.util.ArrayList;
import java.util.List;

/**
 * What the history has of one partition of the sites' log.
 *
 * @param log the topic's id
 * @param from first offset
 * @param to last offset
 */
public record Stretch(String log, int partition, long from, long to, long records) {

    /** Of the log that was written last: one that was begun anew is another. */
    public static List<Stretch> ofNewestLog(History history) {
        List<Stretch> stretches = new ArrayList<>();
        history.duck()
                .ask(
                        "with l as (select log, log_partition, log_offset, arrived_at from packs union all"
                                + " select log, log_partition, log_offset, arrived_at from records)"
                                + " select log, log_partition, min(log_offset), max(log_offset), count(*) from l"
                                + " where log = (select arg_max(log, arrived_at) from l)"
                                + " group by log, log_partition order by log_partition",
                        row -> stretches.add(new Stretch(
                                row.getString(1), row.getInt(2), row.getLong(3), row.getLong(4), row.getLong(5))));
        return stretches;
    }

    /** Its records from one offset to another (exclusive) as SQL, in order: offset, site, record, time of arrival. */
    public String sql(long begin, long end) {
        String where = " where log = " + Duck.literal(log) + " and log_partition = " + partition + " and log_offset >= "
                + begin + " and log_offset < " + end;
        return "select log_offset, site, record, epoch_ms(arrived_at) from (select log_offset, site, record, arrived_at from packs"
                + where + " union all select log_offset, site, record, arrived_at from records" + where
                + ") order by log_offset";
    }
}
