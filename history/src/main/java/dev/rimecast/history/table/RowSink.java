package dev.rimecast.history.table;

/** Takes rows of one table, cell by cell in the order of its columns. Times are milliseconds since 1970, UTC. */
public interface RowSink {
    RowSink text(String value);

    /** A text where an empty one means that there is none. */
    default RowSink textOrNone(String value) {
        return value.isEmpty() ? none() : text(value);
    }

    RowSink time(long millis);

    RowSink number(double value);

    RowSink count(long value);

    RowSink flag(boolean value);

    RowSink bytes(byte[] value);

    /** An empty cell. */
    RowSink none();

    /** The row has all its cells. */
    void end();
}
