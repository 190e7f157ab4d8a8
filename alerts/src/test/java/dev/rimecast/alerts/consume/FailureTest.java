package dev.rimecast.alerts.consume;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.log.MalformedRecordException;
import java.sql.SQLException;
import org.apache.kafka.common.errors.TimeoutException;
import org.jdbi.v3.core.ConnectionException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FailureTest {

    /** Codes and classes: PostgreSQL documentation, appendix A, "PostgreSQL Error Codes". */
    @ParameterizedTest
    @CsvSource({
        "22021, POISON", // character_not_in_repertoire: a zero byte in a text
        "22003, POISON", // numeric_value_out_of_range
        "23514, POISON", // check_violation
        "08006, PASSING", // connection_failure
        "57P01, PASSING", // admin_shutdown
        "53300, PASSING", // too_many_connections
        "40P01, PASSING", // deadlock_detected
        "40001, PASSING", // serialization_failure
    })
    void of_databaseState_isToldApart(String state, Failure expected) {
        RuntimeException failure = new IllegalStateException(new SQLException("?", state));

        assertThat(Failure.of(failure)).isEqualTo(expected);
    }

    @Test
    void of_noConnectionOrKafkaGone_passes() {
        assertThat(Failure.of(new ConnectionException(new SQLException("pool is empty"))))
                .isEqualTo(Failure.PASSING);
        assertThat(Failure.of(new TimeoutException("no broker"))).isEqualTo(Failure.PASSING);
    }

    @Test
    void of_recordThatIsNone_isPoison() {
        assertThat(Failure.of(new MalformedRecordException("nothing", "byte 0")))
                .isEqualTo(Failure.POISON);
    }
}
