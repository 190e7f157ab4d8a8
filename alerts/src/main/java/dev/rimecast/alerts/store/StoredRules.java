package dev.rimecast.alerts.store;

import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.rules.RuleStore;
import dev.rimecast.alerts.rules.RuleVersion;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.statement.Query;

/** Versions of the firm's books in the database, which refuses to change one. */
public final class StoredRules implements RuleStore {
    private static final String SELECT = "select book, version, text, at, who, why, restores from rule_version ";

    private final Database database;

    public StoredRules(Database database) {
        this.database = database;
    }

    @Override
    public List<RuleVersion> versions(Book book) {
        return database.jdbi()
                .withHandle(handle -> read(handle.createQuery(SELECT + "where book = :book order by version desc")
                        .bind("book", book.code())));
    }

    @Override
    public Optional<RuleVersion> version(Book book, int version) {
        return database
                .jdbi()
                .withHandle(handle -> read(handle.createQuery(SELECT + "where book = :book and version = :version")
                        .bind("book", book.code())
                        .bind("version", version)))
                .stream()
                .findFirst();
    }

    @Override
    public Map<Book, Integer> newest() {
        Map<Book, Integer> newest = new EnumMap<>(Book.class);
        database.jdbi()
                .useHandle(handle -> handle.createQuery("select book, max(version) from rule_version group by book")
                        .map((row, context) ->
                                newest.put(Book.ofCode(row.getString(1)).orElseThrow(), row.getInt(2)) == null)
                        .list());
        return newest;
    }

    /** Of two at once the second waits for the first, finds its version taken, and writes nothing. */
    @Override
    public boolean append(RuleVersion next) {
        int rows = database.jdbi()
                .inTransaction(handle -> handle.createUpdate("""
                        insert into rule_version (book, version, text, at, who, why, restores)
                        select :book, :version, :text, :at, :who, :why, :restores
                        where :version = 1 + coalesce((select max(version) from rule_version where book = :book), 0)
                        on conflict (book, version) do nothing""")
                        .bind("book", next.book().code())
                        .bind("version", next.version())
                        .bind("text", next.text())
                        .bind("at", next.at())
                        .bind("who", next.who())
                        .bind("why", next.why())
                        .bind("restores", next.restores())
                        .execute());
        return rows == 1;
    }

    private static List<RuleVersion> read(Query query) {
        return query.map((row, context) -> version(row)).list();
    }

    private static RuleVersion version(ResultSet row) throws SQLException {
        int restores = row.getInt(7);
        Optional<Integer> restored = row.wasNull() ? Optional.empty() : Optional.of(restores);
        return new RuleVersion(
                Book.ofCode(row.getString(1)).orElseThrow(),
                row.getInt(2),
                Optional.ofNullable(row.getString(3)),
                row.getTimestamp(4).toInstant(),
                row.getString(5),
                row.getString(6),
                restored);
    }
}
