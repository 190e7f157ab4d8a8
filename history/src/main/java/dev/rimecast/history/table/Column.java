package dev.rimecast.history.table;

/**
 * A column of a table.
 *
 * @param name lower case, with underscores
 * @param unit as the contract writes it; empty where it has none
 * @param meaning in a few words, for the page about the history
 */
public record Column(String name, Kind kind, String unit, String meaning) {

    /** What a cell holds. */
    public enum Kind {
        TEXT("VARCHAR"),
        /** UTC, to the microsecond, without a time zone in its type. */
        TIME("TIMESTAMP"),
        NUMBER("DOUBLE"),
        COUNT("BIGINT"),
        FLAG("BOOLEAN"),
        BYTES("BLOB");

        private final String sql;

        Kind(String sql) {
            this.sql = sql;
        }

        /** Its type in SQL. */
        public String sql() {
            return sql;
        }
    }

    static Column text(String name, String meaning) {
        return new Column(name, Kind.TEXT, "", meaning);
    }

    static Column time(String name, String meaning) {
        return new Column(name, Kind.TIME, "", meaning);
    }

    static Column number(String name, String unit, String meaning) {
        return new Column(name, Kind.NUMBER, unit, meaning);
    }

    static Column count(String name, String meaning) {
        return new Column(name, Kind.COUNT, "", meaning);
    }

    static Column flag(String name, String meaning) {
        return new Column(name, Kind.FLAG, "", meaning);
    }

    static Column bytes(String name, String meaning) {
        return new Column(name, Kind.BYTES, "", meaning);
    }

    /** Its name as SQL takes it, whatever words SQL keeps for itself. */
    public String quoted() {
        return '"' + name + '"';
    }
}
