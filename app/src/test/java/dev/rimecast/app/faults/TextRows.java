package dev.rimecast.app.faults;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;

/** What a database answers, every value as text. */
final class TextRows {
    private TextRows() {}

    /** @param open closed when it has answered */
    static List<List<String>> of(Connection open, String sql) throws SQLException {
        try (Connection connection = open;
                Statement statement = connection.createStatement();
                ResultSet found = statement.executeQuery(sql)) {
            List<List<String>> rows = new ArrayList<>();
            while (found.next()) {
                List<String> row = new ArrayList<>();
                for (int column = 1; column <= found.getMetaData().getColumnCount(); column++) {
                    row.add(String.valueOf(found.getString(column)));
                }
                rows.add(row);
            }
            return rows;
        }
    }
}
