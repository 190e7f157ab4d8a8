package dev.rimecast.history.duck;

import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.table.RowSink;
import java.sql.SQLException;
import org.duckdb.DuckDBAppender;

/** Rows on their way into a table in memory. */
public final class Rows implements RowSink, AutoCloseable {
    private final DuckDBAppender appender;
    private boolean isInRow;
    private long rows;

    Rows(DuckDBAppender appender) {
        this.appender = appender;
    }

    private interface Append {
        void now() throws SQLException;
    }

    private RowSink cell(Append append) {
        try {
            if (!isInRow) {
                appender.beginRow();
                isInRow = true;
            }
            append.now();
            return this;
        } catch (SQLException e) {
            throw new HistoryException("a cell can't be written: " + e.getMessage(), e);
        }
    }

    @Override
    public RowSink text(String value) {
        return cell(() -> appender.append(value));
    }

    @Override
    public RowSink time(long millis) {
        return cell(() -> appender.appendEpochMicros(1000 * millis));
    }

    @Override
    public RowSink number(double value) {
        return cell(() -> appender.append(value));
    }

    @Override
    public RowSink count(long value) {
        return cell(() -> appender.append(value));
    }

    @Override
    public RowSink flag(boolean value) {
        return cell(() -> appender.append(value));
    }

    @Override
    public RowSink bytes(byte[] value) {
        return cell(() -> appender.append(value));
    }

    @Override
    public RowSink none() {
        return cell(appender::appendNull);
    }

    @Override
    public void end() {
        try {
            appender.endRow();
            isInRow = false;
            rows++;
        } catch (SQLException e) {
            throw new HistoryException("a row can't be written: " + e.getMessage(), e);
        }
    }

    public long rows() {
        return rows;
    }

    @Override
    public void close() {
        try {
            appender.close();
        } catch (SQLException e) {
            throw new HistoryException("rows can't be written: " + e.getMessage(), e);
        }
    }
}
