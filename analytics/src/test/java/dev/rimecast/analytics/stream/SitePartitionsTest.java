package dev.rimecast.analytics.stream;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SitePartitionsTest {
    // Hashes: Apache Kafka 4.x, clients, UtilsTest.testMurmur2. A partition is the hash without its sign bit, modulo
    // the number of partitions (Kafka's documentation of the default partitioner).
    @ParameterizedTest
    @CsvSource({"21,-973932308", "foobar,-790332482", "a-little-bit-long-string,-985981536", "abc,479470107"})
    void key_hasThePartitionOfKafkasOwnPartitioner(String key, int hash) {
        assertThat(SitePartitions.of(key, 12)).isEqualTo((hash & 0x7fffffff) % 12);
    }

    @Test
    void noPartitions_isRefused() {
        assertThatThrownBy(() -> SitePartitions.of("harbour-north", 0)).isInstanceOf(IllegalArgumentException.class);
    }
}
