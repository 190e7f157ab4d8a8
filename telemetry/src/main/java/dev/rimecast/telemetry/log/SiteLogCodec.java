package dev.rimecast.telemetry.log;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

/**
 * The records of a site's log as bytes.
 *
 * <p>Byte 0 is the version of the format, byte 1 the kind of record, the rest its fields in the order of the record's
 * declaration. Elements: whole numbers as base-128 varints, low bits first, signed ones with the sign in the lowest bit;
 * doubles as eight bytes, high byte first (IEEE 754); texts as length and UTF-8; times as signed seconds and
 * nanoseconds; choices as one byte; a byte 0 or 1 before what may be absent. A pack has a shape of its own, see
 * {@code PackFormat}.
 *
 * <p>What was written stays readable: a changed layout gets a new version byte, and enumerations of the format only
 * grow at their end.
 */
public final class SiteLogCodec {
    private static final int VERSION = 1;

    private static final int PACK = 1;
    private static final int REGISTERED = 2;
    private static final int UNREGISTERED = 3;
    private static final int SITE_CHANGED = 4;
    private static final int POLICY_ACTIVATED = 5;
    private static final int HAPPENED = 6;
    private static final int PRESENCE = 7;
    private static final int TICK = 8;
    private static final int WEATHER_EXPECTED = 9;

    private SiteLogCodec() {}

    /** The record's bytes; the same record always gives the same bytes. */
    public static byte[] encode(SiteRecord siteRecord) {
        if (siteRecord instanceof SiteRecord.Pack pack) {
            RecordWriter out = begin(PACK, 96 + 8 * pack.readings().size());
            PackFormat.write(out, pack);
            return out.toBytes();
        }
        if (siteRecord instanceof SiteRecord.Registered registered) {
            RecordWriter out = begin(REGISTERED, 256);
            out.instant(registered.at());
            RegisterFormat.write(out, registered.machine());
            return out.toBytes();
        }
        if (siteRecord instanceof SiteRecord.Unregistered unregistered) {
            RecordWriter out = begin(UNREGISTERED, 64);
            out.instant(unregistered.at());
            out.text(unregistered.machine());
            return out.toBytes();
        }
        if (siteRecord instanceof SiteRecord.SiteChanged changed) {
            RecordWriter out = begin(SITE_CHANGED, 128);
            out.instant(changed.at());
            RegisterFormat.write(out, changed.site());
            return out.toBytes();
        }
        if (siteRecord instanceof SiteRecord.PolicyActivated policy) {
            RecordWriter out = begin(POLICY_ACTIVATED, 64 + policy.yaml().length());
            out.instant(policy.at());
            out.text(policy.version());
            out.text(policy.yaml());
            return out.toBytes();
        }
        if (siteRecord instanceof SiteRecord.Happened happened) {
            RecordWriter out = begin(HAPPENED, 128);
            out.instant(happened.at());
            out.optionalText(happened.machine());
            out.choice(happened.kind());
            out.text(happened.detail());
            out.text(happened.by());
            out.text(happened.job());
            return out.toBytes();
        }
        if (siteRecord instanceof SiteRecord.WeatherExpected weather) {
            RecordWriter out = begin(WEATHER_EXPECTED, 32 + 12 * weather.days().size());
            out.instant(weather.at());
            out.unsigned(weather.days().size());
            for (SiteRecord.WarmestOfDay day : weather.days()) {
                out.signed(day.date().toEpochDay());
                out.float64(day.maxCelsius());
            }
            return out.toBytes();
        }
        if (siteRecord instanceof SiteRecord.Presence presence) {
            RecordWriter out = begin(PRESENCE, 64);
            out.instant(presence.at());
            out.text(presence.gateway());
            out.flag(presence.online());
            return out.toBytes();
        }
        RecordWriter out = begin(TICK, 16);
        out.instant(((SiteRecord.Tick) siteRecord).at());
        return out.toBytes();
    }

    /**
     * The record that {@link #encode} wrote.
     *
     * @throws MalformedRecordException if the bytes are anything else
     */
    public static SiteRecord decode(byte[] bytes) {
        RecordReader in = new RecordReader(bytes);
        try {
            int version = in.octet();
            if (version != VERSION) {
                throw in.malformed("unknown version " + version);
            }
            SiteRecord siteRecord = body(in.octet(), in);
            in.end();
            return siteRecord;
        } catch (MalformedRecordException e) {
            throw e;
        } catch (IllegalArgumentException | DateTimeException e) {
            // What the records themselves refuse: an illegal identifier, a negative delay, a time zone that is none.
            throw in.malformed(e);
        }
    }

    private static SiteRecord body(int tag, RecordReader in) {
        return switch (tag) {
            case PACK -> PackFormat.read(in);
            case REGISTERED -> new SiteRecord.Registered(in.instant(), RegisterFormat.readMachine(in));
            case UNREGISTERED -> new SiteRecord.Unregistered(in.instant(), in.text());
            case SITE_CHANGED -> new SiteRecord.SiteChanged(in.instant(), RegisterFormat.readSite(in));
            case POLICY_ACTIVATED -> new SiteRecord.PolicyActivated(in.instant(), in.text(), in.text());
            case HAPPENED ->
                new SiteRecord.Happened(
                        in.instant(),
                        in.optionalText(),
                        in.choice(EventKind.values()),
                        in.text(),
                        in.text(),
                        in.text());
            case PRESENCE -> new SiteRecord.Presence(in.instant(), in.text(), in.flag());
            case WEATHER_EXPECTED -> new SiteRecord.WeatherExpected(in.instant(), weather(in));
            case TICK -> new SiteRecord.Tick(in.instant());
            default -> throw in.malformed("unknown kind of record " + tag);
        };
    }

    private static List<SiteRecord.WarmestOfDay> weather(RecordReader in) {
        List<SiteRecord.WarmestOfDay> days = new ArrayList<>();
        for (long count = in.unsigned(); count > 0; count--) {
            days.add(new SiteRecord.WarmestOfDay(LocalDate.ofEpochDay(in.signed()), in.float64()));
        }
        return days;
    }

    private static RecordWriter begin(int tag, int expectedBytes) {
        RecordWriter out = new RecordWriter(expectedBytes);
        out.octet(VERSION);
        out.octet(tag);
        return out;
    }
}
