package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.EventJson.RowProblemJson;
import dev.rimecast.dashboard.json.EventJson.WeatherImportJson;
import dev.rimecast.telemetry.file.WeatherFile;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.file.csv.CsvTable.Numbered;
import dev.rimecast.telemetry.file.csv.CsvTable.Readable;
import dev.rimecast.telemetry.log.SiteRecord.WarmestOfDay;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;

/** {@code POST /api/v1/weather}: {@code weather.csv}, for the dates that forecasts say. */
final class WeatherImport {
    private static final String TOO_LONG = "Send at most 4 MiB at once, for example the days of some sites.";
    private static final String NAME = "weather.csv";

    private final Fleet fleet;
    private final Reply reply;

    WeatherImport(Fleet fleet, Reply reply) {
        this.fleet = fleet;
        this.reply = reply;
    }

    void take(Context ctx) {
        Readable<WeatherRow> table = CsvBody.read(ctx, TOO_LONG, csv -> WeatherFile.readGoodRows(NAME, csv));
        Map<String, List<WarmestOfDay>> days = new TreeMap<>();
        table.rows().stream()
                .map(Numbered::value)
                .sorted(Comparator.comparing(WeatherRow::date))
                .forEach(row -> days.computeIfAbsent(row.site(), site -> new ArrayList<>())
                        .add(new WarmestOfDay(row.date(), row.maxCelsius())));
        Set<String> missing = fleet.events(ctx).expectWeather(SiteScope.EVERY, days);
        List<RowProblemJson> problems =
                new ArrayList<>(table.problems().stream().map(CsvBody::problem).toList());
        int taken = 0;
        for (Numbered<WeatherRow> row : table.rows()) {
            String site = row.value().site();
            if (missing.contains(site)) {
                problems.add(new RowProblemJson(row.line(), "site", "No site " + site + " in the register."));
            } else {
                taken++;
            }
        }
        problems.sort(Comparator.comparingLong(RowProblemJson::line));
        int refused = CsvBody.lines(problems);
        reply.json(ctx, new WeatherImportJson(taken + refused, taken, days.size() - missing.size(), refused, problems));
    }
}
