package dev.rimecast.benchmarks;

import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.json.JsonFactory;

/** The ceiling of decoding: every token is seen, every number read, nothing is kept. */
public final class BareParse {
    private static final JsonFactory JSON = new JsonFactory();

    private BareParse() {}

    /** A sum of what was read, so that none of it can be left out. */
    public static double of(byte[] payload) {
        double sum = 0;
        try (JsonParser in = JSON.createParser(ObjectReadContext.empty(), payload)) {
            for (JsonToken token = in.nextToken(); token != null; token = in.nextToken()) {
                sum += switch (token) {
                    case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> in.getDoubleValue();
                    case VALUE_STRING, PROPERTY_NAME -> in.getString().length();
                    default -> 1;
                };
            }
        }
        return sum;
    }
}
