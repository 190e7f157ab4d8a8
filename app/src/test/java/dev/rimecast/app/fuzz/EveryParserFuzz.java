package dev.rimecast.app.fuzz;

import java.io.IOException;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * All targets of {@link ParsersFuzzTest} as one: the first byte says which, the rest is its input. So Jazzer instruments once for all of
 * them, and goes where there is something new, whichever parser that is in: {@code bash .ci/fuzz every 1000000}. No test of JUnit's.
 */
public final class EveryParserFuzz {
    private static final Map<String, Target> TARGETS = targets(new ParsersFuzzTest());
    private static final String[] NAMES = TARGETS.keySet().toArray(String[]::new);
    private static final List<Target> READERS = List.copyOf(TARGETS.values());
    private static final long[] INPUTS = new long[NAMES.length];

    private EveryParserFuzz() {}

    private interface Target {
        void read(byte[] input) throws IOException;
    }

    /** What there is. */
    static List<String> names() {
        return List.of(NAMES);
    }

    /** The inputs that are kept begin with their place in it: new ones go to the end. */
    private static Map<String, Target> targets(ParsersFuzzTest of) {
        Map<String, Target> all = new LinkedHashMap<>();
        all.put("addresses", of::addresses);
        all.put("capture", of::capture);
        all.put("codes", of::codes);
        all.put("configuration", of::configuration);
        all.put("decided", of::decided);
        all.put("engineers", of::engineers);
        all.put("events", of::events);
        all.put("keysOfGateways", of::keysOfGateways);
        all.put("machines", of::machines);
        all.put("notices", of::notices);
        all.put("parts", of::parts);
        all.put("policy", of::policy);
        all.put("rules", of::rules);
        all.put("senmlCbor", of::senmlCbor);
        all.put("senmlJson", of::senmlJson);
        all.put("siteLogRecord", of::siteLogRecord);
        all.put("sites", of::sites);
        all.put("telemetryLog", of::telemetryLog);
        all.put("weather", of::weather);
        all.put("webhookUrl", of::webhookUrl);
        all.put("alerts", of::alerts);
        all.put("alertHistory", of::alertHistory);
        all.put("cycles", of::cycles);
        all.put("marks", of::marks);
        all.put("truth", of::truth);
        return all;
    }

    /** Jazzer's. */
    public static void fuzzerInitialize() throws IOException {
        ParsersFuzzTest.makeDirectory();
        Runtime.getRuntime().addShutdownHook(new Thread(EveryParserFuzz::tell));
    }

    /** Jazzer's. */
    public static void fuzzerTestOneInput(byte[] input) throws IOException {
        if (input.length == 0) {
            return;
        }
        int which = (input[0] & 0xFF) % NAMES.length;
        INPUTS[which]++;
        READERS.get(which).read(Arrays.copyOfRange(input, 1, input.length));
    }

    private static void tell() {
        for (int i = 0; i < NAMES.length; i++) {
            System.err.println("inputs: " + NAMES[i] + ' ' + INPUTS[i]);
        }
    }
}
