package dev.rimecast.analytics.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class TrendTest {
    /** EPA QA/G-9S (2006), page 109: s = 22, variance 155.33, z = 1.685, two-sided p 0.0920. */
    private static final double[] EPA = {10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15};

    /** Annual flow of the Nile at Aswan 1871-1970, 10^8 m3: data set {@code Nile} of R. */
    private static final double[] NILE = {
        1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140,
        1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969,
        831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759,
        781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
        744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740
    };

    @Test
    void mannKendall_epaExampleWithTies_agrees() {
        MannKendall test = MannKendall.of(EPA, EPA.length);

        assertThat(test.s()).isEqualTo(22);
        assertThat(test.variance()).isCloseTo(155.333, within(0.001));
        assertThat(test.z()).isCloseTo(1.685, within(0.001));
        assertThat(test.twoSidedProbability()).isCloseTo(0.0920, within(0.0001));
    }

    @Test
    void theilSen_epaExample_agrees() {
        assertThat(TheilSen.of(steps(EPA.length), EPA, EPA.length, 0.8).slope()).isEqualTo(1.0);
    }

    /** R: S = -1387, variance 112728.333, z = -4.12807, p = 3.66e-5; Sen's slope -2.6 a year. */
    @Test
    void mannKendallAndTheilSen_nile_agreeWithR() {
        MannKendall test = MannKendall.of(NILE, NILE.length);

        assertThat(test.s()).isEqualTo(-1387);
        assertThat(test.variance()).isCloseTo(112728.333, within(0.001));
        assertThat(test.z()).isCloseTo(-4.12807, within(0.00001));
        assertThat(test.twoSidedProbability()).isCloseTo(3.66e-5, within(0.01e-5));
        assertThat(TheilSen.of(steps(NILE.length), NILE, NILE.length, 0.8).slope())
                .isCloseTo(-2.6, within(0.05));
    }

    @Test
    void theilSen_exactLineWithOneWildValue_keepsTheLine() {
        double[] y = {1, 3, 5, 700, 9, 11, 13, 15, 17, 19};

        TheilSen line = TheilSen.of(steps(y.length), y, y.length, 0.8);

        assertThat(line.slope()).isEqualTo(2.0);
        assertThat(line.intercept()).isEqualTo(1.0);
        assertThat(line.low()).isEqualTo(2.0);
        assertThat(line.high()).isEqualTo(2.0);
    }

    /** Standard normal quantiles: NIST/SEMATECH e-Handbook, table 1.3.6.7.1. */
    @Test
    void normal_quantile_agreesWithTable() {
        assertThat(Normal.quantile(0.9)).isCloseTo(1.2816, within(0.0001));
        assertThat(Normal.quantile(0.975)).isCloseTo(1.95996, within(0.00001));
        assertThat(Normal.below(-3)).isCloseTo(0.0013499, within(1e-7));
    }

    private static double[] steps(int n) {
        double[] x = new double[n];
        for (int i = 0; i < n; i++) {
            x[i] = i;
        }
        return x;
    }
}
