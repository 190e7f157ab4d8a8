package dev.rimecast.telemetry.reading;

import java.util.Locale;
import java.util.Optional;

/** Why a payload, or one record of it, was not taken. The codes stand in the rejects, so they never change meaning. */
public enum RejectReason {
    /** The payload is not SenML: broken JSON or CBOR, no array of records, a label with a value of the wrong type. */
    NOT_SENML,
    /** The payload is larger than 256 KiB, or a part of it is longer or deeper nested than SenML needs. */
    TOO_LARGE,
    /** More than 500 records in one pack. */
    TOO_MANY_RECORDS,
    /** A label that ends in {@code _} says "understand me or refuse the pack" (RFC 8428 section 4.4). */
    MUST_UNDERSTAND_LABEL,
    /** {@code bver} changes within the pack, or names a version or feature that is not supported. */
    BAD_BASE_VERSION,
    /** Base name and name are both missing. */
    NO_NAME,
    /** The name is not {@code {machine}/{channel}} with a legal identifier. */
    BAD_NAME,
    /** None of {@code v}, {@code vs}, {@code vb}, {@code vd}. */
    NO_VALUE,
    /** More than one of {@code v}, {@code vs}, {@code vb}, {@code vd}. */
    SEVERAL_VALUES,
    /** NaN, infinite, or beyond a double. */
    NOT_A_NUMBER,
    /** A text where the channel has numbers, and the like. */
    WRONG_VALUE_TYPE,
    UNKNOWN_CHANNEL,
    /** In neither units registry, or a unit of another quantity than the channel's. */
    UNKNOWN_UNIT,
    /** There is no Fahrenheit in the registries: the gateway has to convert. */
    FAHRENHEIT,
    /** Outside what the channel can be: a negative duration, a phase that is none. */
    OUT_OF_RANGE,
    /** More than 10 minutes ahead of the time of arrival. */
    FUTURE_TIME,
    /** The gateway is in no register. */
    UNKNOWN_GATEWAY,
    /** The register has this machine behind another gateway. */
    MACHINE_OF_OTHER_GATEWAY,
    /** A topic that is not the contract's. */
    BAD_TOPIC,
    /** The pack's own number cannot be read: {@code boot} or {@code seq}. */
    BAD_NUMBER,
    /** Before the year 2000: a gateway whose clock was never set. */
    BAD_TIME,
    /** The connection speaks for another gateway than the topic names. */
    TOPIC_OF_OTHER_GATEWAY,
    /** A presence message that says neither {@code online} nor {@code offline}. */
    BAD_PRESENCE,
    /** The topic names a gateway that has keys, or had, and the message came without: through a broker that is not known to look at them. */
    KEY_NOT_SHOWN,
    /** The gateway brought far more through a broker than one may: the message was not looked into, and is kept to be taken again. */
    TOO_MANY_PACKS;

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The word of the contract, kebab case. */
    public String code() {
        return code;
    }

    public static Optional<RejectReason> ofCode(String code) {
        for (RejectReason reason : values()) {
            if (reason.code.equals(code)) {
                return Optional.of(reason);
            }
        }
        return Optional.empty();
    }
}
