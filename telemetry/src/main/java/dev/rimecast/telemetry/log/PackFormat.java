package dev.rimecast.telemetry.log;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * A pack's body: gateway, number, time of arrival, count of rejected records, the names of its machines once each, the
 * time of the first reading, and then a reading each as place of its machine, channel and form, time since the one
 * before, value.
 *
 * <p>A value that is exactly a whole number, or one of tenths, hundredths or thousandths, is written as that whole
 * number; any other as it stands. Both read back to the same bits.
 */
final class PackFormat {
    private static final int FLOAT = 0;
    private static final int WHOLE = 1;
    private static final int TENTHS = 2;
    private static final int HUNDREDTHS = 3;
    private static final int THOUSANDTHS = 4;
    private static final int TEXT = 5;
    private static final int FLOAT_AND_TEXT = 6;

    private static final double[] DIVISOR = {0, 1, 10, 100, 1000};
    private static final int FORM_BITS = 3;
    /** Machine, channel, time and value have a byte each at least. */
    private static final int LEAST_BYTES_OF_READING = 4;
    /** Below this a whole number is shorter than eight bytes, the product with 1000 too. */
    private static final double LARGEST_SHORT = 1e12;

    private PackFormat() {}

    static void write(RecordWriter out, SiteRecord.Pack pack) {
        out.text(pack.gateway());
        out.flag(pack.number().isPresent());
        pack.number().ifPresent(number -> {
            out.text(number.boot());
            out.unsigned(number.seq());
        });
        out.instant(pack.receivedAt());
        out.unsigned(pack.rejected());
        List<String> machines = machinesOf(pack.readings());
        out.unsigned(machines.size());
        machines.forEach(out::text);
        out.unsigned(pack.readings().size());
        long before = 0;
        int place = 0;
        for (Reading reading : pack.readings()) {
            if (!reading.machine().equals(machines.get(place))) {
                place = machines.indexOf(reading.machine());
            }
            out.unsigned(place);
            int form = formOf(reading);
            out.unsigned((long) reading.channel().ordinal() << FORM_BITS | form);
            out.signed(reading.timeMillis() - before);
            before = reading.timeMillis();
            writeValue(out, form, reading);
        }
    }

    /** Each once, in the order in which they come; a pack has few. */
    private static List<String> machinesOf(List<Reading> readings) {
        Set<String> machines = new LinkedHashSet<>();
        String last = "";
        for (Reading reading : readings) {
            if (!reading.machine().equals(last)) {
                last = reading.machine();
                machines.add(last);
            }
        }
        return List.copyOf(machines);
    }

    static SiteRecord.Pack read(RecordReader in) {
        String gateway = in.text();
        Optional<PackNumber> number =
                in.flag() ? Optional.of(new PackNumber(in.text(), in.unsigned())) : Optional.empty();
        Instant receivedAt = in.instant();
        int rejected = in.nonNegativeInt();
        int machineCount = in.count(1);
        String[] machines = new String[machineCount];
        for (int i = 0; i < machineCount; i++) {
            machines[i] = in.text();
        }
        int count = in.count(LEAST_BYTES_OF_READING);
        List<Reading> readings = new ArrayList<>(count);
        long timeMillis = 0;
        for (int i = 0; i < count; i++) {
            int place = in.nonNegativeInt();
            if (place >= machineCount) {
                throw in.malformed("machine " + place + " of " + machineCount);
            }
            int channelAndForm = in.nonNegativeInt();
            int channel = channelAndForm >>> FORM_BITS;
            if (channel >= Channel.count()) {
                throw in.malformed("unknown channel " + channel);
            }
            timeMillis += in.signed();
            int form = channelAndForm & (1 << FORM_BITS) - 1;
            readings.add(readValue(in, form, machines[place], Channel.ofOrdinal(channel), timeMillis));
        }
        return new SiteRecord.Pack(gateway, number, receivedAt, readings, rejected);
    }

    private static int formOf(Reading reading) {
        double value = reading.value();
        if (!reading.text().isEmpty()) {
            return sameBits(value, 0) ? TEXT : FLOAT_AND_TEXT;
        }
        if (Math.abs(value) < LARGEST_SHORT) {
            for (int form = WHOLE; form <= THOUSANDTHS; form++) {
                if (sameBits(shortValue(form, Math.round(value * DIVISOR[form])), value)) {
                    return form;
                }
            }
        }
        return FLOAT;
    }

    private static void writeValue(RecordWriter out, int form, Reading reading) {
        switch (form) {
            case FLOAT -> out.float64(reading.value());
            case TEXT -> out.text(reading.text());
            case FLOAT_AND_TEXT -> {
                out.float64(reading.value());
                out.text(reading.text());
            }
            default -> out.signed(Math.round(reading.value() * DIVISOR[form]));
        }
    }

    private static Reading readValue(RecordReader in, int form, String machine, Channel channel, long timeMillis) {
        return switch (form) {
            case FLOAT -> new Reading(machine, channel, timeMillis, in.float64(), "");
            case WHOLE, TENTHS, HUNDREDTHS, THOUSANDTHS ->
                new Reading(machine, channel, timeMillis, shortValue(form, in.signed()), "");
            case TEXT -> new Reading(machine, channel, timeMillis, 0, in.text());
            case FLOAT_AND_TEXT -> new Reading(machine, channel, timeMillis, in.float64(), in.text());
            default -> throw in.malformed("unknown form of value " + form);
        };
    }

    private static double shortValue(int form, long number) {
        return number / DIVISOR[form];
    }

    private static boolean sameBits(double a, double b) {
        return Double.doubleToRawLongBits(a) == Double.doubleToRawLongBits(b);
    }
}
