package dev.rimecast.dashboard.json;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import tools.jackson.core.JsonGenerator;
import tools.jackson.databind.SerializationContext;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.module.SimpleModule;
import tools.jackson.databind.ser.std.StdSerializer;

/** How values are written: what is absent is left out, times are ISO 8601 UTC to the millisecond. */
public final class WireFormat {
    private WireFormat() {}

    public static JsonMapper mapper() {
        return JsonMapper.builder()
                .changeDefaultPropertyInclusion(
                        inclusion -> inclusion.withValueInclusion(JsonInclude.Include.NON_ABSENT))
                .addModule(new SimpleModule().addSerializer(Instant.class, new ToMillisecond()))
                .build();
    }

    private static final class ToMillisecond extends StdSerializer<Instant> {
        ToMillisecond() {
            super(Instant.class);
        }

        @Override
        public void serialize(Instant value, JsonGenerator json, SerializationContext context) {
            json.writeString(value.truncatedTo(ChronoUnit.MILLIS).toString());
        }
    }
}
