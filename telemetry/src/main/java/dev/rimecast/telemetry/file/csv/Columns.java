package dev.rimecast.telemetry.file.csv;

import dev.rimecast.telemetry.yaml.NearestKey;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/** The columns that a kind of file has. In a file they may stand in any order. */
public record Columns(List<String> required, List<String> optional) {

    public Columns {
        required = List.copyOf(required);
        optional = List.copyOf(optional);
    }

    public List<String> all() {
        return Stream.concat(required.stream(), optional.stream()).toList();
    }

    /**
     * Where each column of a header stands. What is wrong with the header is added to {@code problems}.
     *
     * @param header the cells of the file's first record
     */
    public Map<String, Integer> positions(String file, long line, List<String> header, List<InputProblem> problems) {
        Map<String, Integer> positions = new LinkedHashMap<>();
        List<String> known = all();
        for (int i = 0; i < header.size(); i++) {
            String name = header.get(i);
            if (!known.contains(name)) {
                String hint = NearestKey.hint(name, known);
                String may = hint.isEmpty() ? ": the columns are " + String.join(", ", known) : hint;
                problems.add(new InputProblem(file, line, name, "is not a known column" + may));
            } else if (positions.putIfAbsent(name, i) != null) {
                problems.add(new InputProblem(file, line, name, "is here twice: delete one of the columns"));
            }
        }
        List<String> missing = new ArrayList<>(required);
        missing.removeAll(positions.keySet());
        for (String name : missing) {
            problems.add(new InputProblem(file, line, name, "is missing: the header must have this column"));
        }
        return positions;
    }
}
