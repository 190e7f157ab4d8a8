package dev.rimecast.telemetry.log;

/** Bytes that should be a record and are not: cut off, of an unknown kind or version, or against the rules of a record. */
public final class MalformedRecordException extends IllegalArgumentException {
    private static final long serialVersionUID = 1L;

    private final String what;
    private final String where;

    /**
     * @param what what is wrong, for a person
     * @param where a place in the input, such as {@code byte 17} or {@code field measure.unit}
     */
    public MalformedRecordException(String what, String where) {
        super(what + " at " + where);
        this.what = what;
        this.where = where;
    }

    public MalformedRecordException(String what, String where, Throwable cause) {
        super(what + " at " + where, cause);
        this.what = what;
        this.where = where;
    }

    public String what() {
        return what;
    }

    public String where() {
        return where;
    }
}
