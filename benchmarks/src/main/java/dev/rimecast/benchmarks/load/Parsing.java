package dev.rimecast.benchmarks.load;

import dev.rimecast.benchmarks.BareParse;
import dev.rimecast.telemetry.senml.SenmlJsonDecoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Map;

/** SenML JSON through parsers on one thread. */
final class Parsing {
    private static final int WARM_ROUNDS = 12;
    private static final int DUCKDB_COPIES = 20;

    private Parsing() {}

    /** Jackson, with nothing kept. */
    static Measure bare(LearnedSite site) {
        return measured(payloads(site), BareParse::of);
    }

    /** The product's own. */
    static Measure senml(LearnedSite site) {
        return measured(
                payloads(site),
                payload -> SenmlJsonDecoder.decode(payload, site.from()).hashCode());
    }

    private interface OfOne {
        double take(byte[] payload);
    }

    private static Measure measured(List<byte[]> payloads, OfOne parser) {
        for (int warm = 0; warm < WARM_ROUNDS; warm++) {
            all(payloads, parser);
        }
        return Measure.ofThread(() -> all(payloads, parser), payloads.size());
    }

    private static long all(List<byte[]> payloads, OfOne parser) {
        double sum = 0;
        for (byte[] payload : payloads) {
            sum += parser.take(payload);
        }
        return Double.doubleToRawLongBits(sum);
    }

    private static List<byte[]> payloads(LearnedSite site) {
        return site.packs().stream()
                .map(pack -> SenmlJsonEncoder.encode(pack.readings()))
                .toList();
    }

    /** A file with a pack a line, the values of all records summed up, on one thread of the database. */
    static Measure duckDb(LearnedSite site, Path directory) throws IOException, SQLException {
        Path file = directory.resolve("packs.ndjson");
        List<byte[]> payloads = payloads(site);
        try (OutputStream lines = Files.newOutputStream(file)) {
            for (int copy = 0; copy < DUCKDB_COPIES; copy++) {
                for (byte[] payload : payloads) {
                    lines.write(payload);
                    lines.write('\n');
                }
            }
        }
        String sql = "select sum(one.v) from (select unnest(json) as one from read_json('" + file
                + "', format='newline_delimited', records=false,"
                + " columns={json: 'STRUCT(bn VARCHAR, bt DOUBLE, n VARCHAR, u VARCHAR, t DOUBLE, v DOUBLE, vs VARCHAR,"
                + " vb BOOLEAN)[]'}))";
        try (Connection connection = DriverManager.getConnection("jdbc:duckdb:");
                Statement statement = connection.createStatement()) {
            statement.execute("set threads=1");
            sum(statement, sql);
            long start = System.nanoTime();
            double sum = sum(statement, sql);
            double seconds = (System.nanoTime() - start) / 1e9;
            Part.require(Double.isFinite(sum) && sum != 0, "DuckDB read nothing");
            double packs = (double) payloads.size() * DUCKDB_COPIES;
            return new Measure(packs / seconds, seconds * 1e6 / packs, Map.of());
        }
    }

    private static double sum(Statement statement, String sql) throws SQLException {
        try (ResultSet found = statement.executeQuery(sql)) {
            found.next();
            return found.getDouble(1);
        }
    }
}
